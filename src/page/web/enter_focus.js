// The focus, held over a change of what stands around it.

function again(element, range) {
  element.focus({ preventScroll: true });
  if (range && element.setSelectionRange) element.setSelectionRange(...range);
}

function range_of(element) {
  try {
    return element.selectionStart === null ? null : [element.selectionStart, element.selectionEnd];
  } catch {
    return null; // not every input has one
  }
}

// Does `change`; whatever had the focus within `root` has it again, or else what has its data-key.
export function keeping_focus(root, change) {
  const had = document.activeElement;
  const within = had && had !== root && root.contains(had);
  const range = within ? range_of(had) : null;
  change();
  if (!within || document.activeElement === had) return;
  if (had.isConnected && root.contains(had)) return again(had, range);
  const key = had.dataset?.key;
  const heir = key && [...root.querySelectorAll("[data-key]")].find((one) => one.dataset.key === key);
  if (heir) again(heir, null);
}

// Into view without a jump where it is there already.
export function show_focused(element) {
  if (!element) return;
  element.focus({ preventScroll: true });
  element.scrollIntoView({ block: "nearest" });
}
