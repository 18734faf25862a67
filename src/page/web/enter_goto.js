// To the field where something is missing, or to what the address names.
import { entry, names, cable_of_load, cable_of_outlet } from "./enter_find.js";

const kPages = ["circuit", "multiwire", "panel"];
const kTables = ["house", "supply", "transformer", "service", "dwelling"];

// row: {kind, name, key}, as api/house lists what is missing.
export function go_to(view, { kind, name, key }) {
  if (kPages.includes(kind)) return page(view, kind, name, key);
  if (kind === "load" || kind === "outlet") return on_cable(view, kind, name, key);
  if (kind === "reading") return view.app.go("readings");
  if (kind === "scenario" && name) return scenario(view, name, key);
  view.facts.focus(kind, key);
}

function page(view, kind, name, key) {
  const first_panel = kind === "panel" && !name;
  view.choose(first_panel ? { kind, name: null, panel: null, space: null } : { kind, name });
  view.editor.focus(key);
}

function on_cable(view, kind, name, key) {
  const one = entry(view.app, kind, name);
  const id = `${kind}:${name}`;
  view.choose(kind === "load" ? cable_of_load(view.app, one) : cable_of_outlet(view.app, one));
  view.state.set_open(id, true);
  view.draw();
  view.forms.get(id)?.focus(key || (kind === "load" ? "watts" : ""));
}

function scenario(view, name, key) {
  view.facts.focus("scenario");
  view.state.set_fact(`scenario:${name}`, true);
  view.facts.draw();
  view.forms.get(`scenario:${name}`).focus(key);
}

// A circuit, load, outlet, multiwire, panel or scenario by its name, or one of the house's tables.
export function to_focus(view) {
  const name = view.app.focus;
  if (!name) return;
  history.replaceState(null, "", "#enter"); // so that a reload shows what is open then
  const kinds = ["circuit", "load", "outlet", "multiwire", "panel", "scenario"];
  const kind = kinds.find((one) => names(view.app, one).includes(name));
  if (kind) go_to(view, { kind, name, key: "" });
  else if (kTables.includes(name)) view.facts.focus(name, "");
}
