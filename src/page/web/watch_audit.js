// What the audit that runs beside the page knows of the house as it stands now.
import { h } from "./dom.js";

// The audit, or null while there is none of this house.
export function current_audit(app) {
  const told = app.audit;
  return told?.audit && told.revision === app.house.revision ? told.audit : null;
}

export function open_neutral(app, place) {
  return current_audit(app)?.open_neutral.find((one) => one.place === place) ?? null;
}

// One sentence on how far the audit is; "" when it is done.
export function progress_sentence(app) {
  const told = app.audit;
  if (!told || told.revision !== app.house.revision) return "The audit of this house has not begun yet.";
  const far = told.all > 0 ? ` ${told.done} of ${told.all}` : "";
  const doing = told.doing ? ` (${told.doing}${far})` : far && ` (${far.trim()})`;
  switch (told.state) {
    case "waiting":
      return "The audit of this house waits to begin.";
    case "searching":
      return `The audit searches all credible states${doing}.`;
    case "proving":
      return `Searched, not proven yet: the proof is being worked out${doing}. A state may still go further.`;
    case "failed":
      return `The audit could not be finished: ${told.doing}.`;
    default:
      return "";
  }
}

// The same with a bar, kept up to date by show(app).
export class Progress {
  #sentence = h("p.note");
  #bar = h("progress.w-progress", { "aria-label": "How far the audit is" });
  root = h("div", null, this.#sentence, this.#bar);

  show(app) {
    const sentence = progress_sentence(app);
    const told = app.audit;
    this.root.hidden = sentence === "";
    if (this.#sentence.textContent !== sentence) this.#sentence.textContent = sentence;
    this.#bar.hidden = !(told && told.all > 0 && told.revision === app.house.revision);
    if (this.#bar.hidden) return;
    this.#bar.max = told.all;
    this.#bar.value = told.done;
  }
}
