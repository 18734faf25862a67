// What the program found wrong with an edit: {where, what, remedy}, said where it was typed.
import { h } from "./dom.js";

// The key of the description that a fault is about, or "".
export const key_of = ({ where }) => /(?:^|: )(\w+)$/.exec(where)?.[1] ?? "";

export const fault_text = ({ what, remedy }) => what + (remedy ? `; ${remedy}` : "") + ".";

// A list of why a form was not saved, and its fields marked. With it a screen reader says at a field
// what is wrong there.
export class FormFaults {
  #marked = []; // [{field, draft}]
  root = h("ul.e-form-faults", { role: "alert" });

  // fields: by key. label(key): what the key is called there. Gives the first field at fault, or null.
  show(faults, fields, label) {
    this.clear();
    for (const [i, fault] of faults.entries()) {
      const key = key_of(fault);
      const field = fields(key);
      const id = `${field?.control.id}-fault-${i}`;
      const where = field ? label(key) : fault.where;
      this.root.append(h("li", { id: field && id }, h("b", null, where), `: ${fault_text(fault)}`));
      if (field) this.#mark(field, id);
    }
    return this.#marked[0]?.field ?? null;
  }
  #mark(field, id) {
    const { control } = field;
    if (this.#marked.some((one) => one.field === field)) return;
    this.#marked.push({ field, id, draft: JSON.stringify(field.read()) });
    const told = control.getAttribute("aria-describedby");
    control.setAttribute("aria-describedby", told ? `${told} ${id}` : id);
    control.setAttribute("aria-invalid", "true");
  }
  // What was wrong is typed anew: no reason stands any more.
  typed() {
    const touched = this.#marked.some(({ field, draft }) => JSON.stringify(field.read()) !== draft);
    if (touched) this.clear();
  }
  clear() {
    this.root.replaceChildren();
    for (const { field, id } of this.#marked) {
      const { control } = field;
      const told = control.getAttribute("aria-describedby").split(" ");
      const left = told.filter((one) => one !== id);
      if (left.length > 0) control.setAttribute("aria-describedby", left.join(" "));
      else control.removeAttribute("aria-describedby");
      control.removeAttribute("aria-invalid");
    }
    this.#marked = [];
  }
}
