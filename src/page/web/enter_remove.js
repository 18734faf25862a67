// Removing a thing: what goes with it is listed first, and the person says so.
import { h, counted } from "./dom.js";
import { list, multiwire_of, entry } from "./enter_find.js";
import { step_of } from "./enter_labels.js";

const listed = (all) => all.map((one) => `“${one}”`).join(", ");
const line = (all, thing, what = "") =>
  all.length > 0 && `${counted(all.length, thing)}${what}: ${listed(all)}`;

function scenarios_with(app, loads) {
  return list(app, "scenario").filter((one) =>
    loads.some((load) => one.on?.includes(load) || load in (one.share ?? {})),
  );
}

// Names of outlets and loads that a removal takes along.
function hanging(app, kind, name) {
  const alone =
    kind === "circuit" && entry(app, "multiwire", multiwire_of(app, name) ?? "")?.circuits.length === 1;
  const ons = kind === "outlet" ? [] : [name, ...(alone ? [multiwire_of(app, name)] : [])];
  const outlets = list(app, "outlet")
    .filter((one) => ons.includes(one.on))
    .map((one) => one.name);
  const ats = kind === "circuit" ? [...outlets, name] : kind === "outlet" ? [name] : outlets;
  const loads =
    kind === "load"
      ? [name]
      : list(app, "load")
          .filter((one) => ats.includes(one.at) || (kind === "circuit" && one.circuit === name))
          .map((one) => one.name);
  return { outlets, loads };
}

function sentences(app, kind, name) {
  const { outlets, loads } = hanging(app, kind, name);
  const multiwire = kind === "circuit" ? multiwire_of(app, name) : null;
  const left = multiwire ? entry(app, "multiwire", multiwire).circuits.filter((one) => one !== name) : [];
  const gone_outlets = kind === "outlet" ? [name] : outlets;
  const reads = list(app, "reading").some(
    (one) => gone_outlets.includes(one.at) || one.on?.some((load) => loads.includes(load)),
  );
  return [
    line(outlets, "outlet"),
    kind !== "load" && line(loads, "load"),
    line(
      scenarios_with(app, loads).map((one) => one.name),
      "scenario",
      " in which a load of it is named (its place there)",
    ),
    multiwire && left.length > 0 && `its place in multiwire “${multiwire}”, which keeps ${listed(left)}`,
    multiwire && left.length === 0 && `the multiwire “${multiwire}”`,
    reads &&
      "A reading names some of this. Readings are kept, so the removal will be refused until " +
        "that reading is changed.",
  ].filter(Boolean);
}

// Asks; true where the person agrees.
export function agreed(root, question, { lead, sentences = [], yes, no = "Keep it" }) {
  return new Promise((resolve) => {
    const had = document.activeElement;
    const close = (answer) => {
      dialog.close();
      dialog.remove();
      if (had?.isConnected) had.focus({ preventScroll: true });
      resolve(answer);
    };
    const dialog = h(
      "dialog.e-ask",
      { "aria-label": question, oncancel: (event) => (event.preventDefault(), close(false)) },
      h("h3", null, question),
      h("p", null, lead),
      sentences.length > 0 &&
        h(
          "ul",
          null,
          sentences.map((one) => h("li", null, one)),
        ),
      h(
        "div.e-acts",
        null,
        h("button.act", { type: "button", "data-action": "confirm", onclick: () => close(true) }, yes),
        h("button", { type: "button", "data-action": "keep", onclick: () => close(false) }, no),
      ),
    );
    root.append(dialog);
    dialog.showModal();
  });
}

// True where it was removed.
export async function remove(app, root, kind, name) {
  const with_it = sentences(app, kind, name);
  const lead = with_it.length > 0 ? "With it go:" : "Nothing else goes with it.";
  if (!(await agreed(root, `Remove ${kind} “${name}”?`, { lead, sentences: with_it, yes: "Remove" })))
    return false;
  const with_uses = ["circuit", "multiwire", "outlet", "load"].includes(kind);
  return app.edit(step_of("Remove", kind, name), [{ verb: "remove", kind, name, with_uses }]);
}
