// What the program found wrong with an edit: {where, what, remedy}, said where it was typed.
import { h } from "./dom.js";

export const fault_text = ({ what, remedy }) => what + (remedy ? `; ${remedy}` : "") + ".";

// The key of the description that a fault is about, where it is one of this entry's: said alone, as of
// the edit itself, or behind the entry, `circuit "Den": space`. Else "".
export function key_of({ where }, entries) {
  if (/^\w+$/.test(where)) return where;
  const entry = entries.find((one) => where.startsWith(`${one}: `));
  return entry === undefined ? "" : where.slice(entry.length + 2);
}

// Why a form was not saved, as a list, and its fields marked: with it a screen reader says at a field
// what is wrong there.
export class FormFaults {
  #marked = []; // [{field, id, item, draft}]; field: null where it is about none
  #list = h("ul");
  root = h("div.e-form-faults", { role: "alert", hidden: true }, this.#list);

  // entries: what the entry that was saved is called; field(key), label(key): of the form.
  // Gives the first field at fault, or null.
  show(faults, { entries, field, label }) {
    this.clear();
    for (const [i, fault] of faults.entries()) {
      const key = key_of(fault, entries);
      const at = (key && field(key)) || null;
      const id = at && `${at.control.id}-fault-${i}`;
      const item = h("li", { id }, h("b", null, at ? label(key) : fault.where), `: ${fault_text(fault)}`);
      this.#list.append(item);
      this.#marked.push({ field: at, id, item, draft: at && JSON.stringify(at.read()) });
      if (at) mark(at.control, id);
    }
    this.root.hidden = faults.length === 0;
    return this.#marked.find((one) => one.field)?.field ?? null;
  }
  // What is typed anew is not at fault any more, nor is what is about no field.
  typed() {
    const stays = ({ field, draft }) => field && JSON.stringify(field.read()) === draft;
    for (const one of this.#marked) if (!stays(one)) this.#drop(one);
    this.#marked = this.#marked.filter(stays);
    this.root.hidden = this.#marked.length === 0;
  }
  clear() {
    for (const one of this.#marked) this.#drop(one);
    this.#marked = [];
    this.root.hidden = true;
  }
  #drop({ field, id, item }) {
    item.remove();
    if (field) unmark(field.control, id);
  }
}

const described = (control) => (control.getAttribute("aria-describedby") ?? "").split(" ").filter(Boolean);

export function mark(control, id) {
  control.setAttribute("aria-describedby", [...described(control).filter((one) => one !== id), id].join(" "));
  control.setAttribute("aria-invalid", "true");
}

export function unmark(control, id) {
  const left = described(control).filter((one) => one !== id);
  if (left.length > 0) control.setAttribute("aria-describedby", left.join(" "));
  else control.removeAttribute("aria-describedby");
  control.removeAttribute("aria-invalid");
}
