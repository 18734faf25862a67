// One reading, one finding or the visit, saved as a whole when it is left or with Enter. What is typed and
// not saved stays, whatever else changes in the house.
import { h } from "./dom.js";
import { field_of } from "./readings_fields.js";
import { fault_text, key_of, mark, unmark } from "./faults.js";

let notes = 0;
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const is_empty = (value) => value === "" || value === false || (Array.isArray(value) && value.length === 0);

export class Entry {
  #app;
  #options;
  #base = {};
  #refused = ""; // what was typed when it was refused last: not asked again until it differs
  #last = Promise.resolve(true); // one save at a time
  note = h("p.r-entry-note", { role: "status", id: `r-note-${++notes}` });
  #marked = []; // the controls at fault, as the note says

  // options: kind, thing (its word), single, specs, layout(entry) -> element, numbered(entry): told of its
  // number, start() -> a new one's first values, lacks(entry) -> a sentence or "", label(entry) of what is
  // saved, kept(): told that something was typed, along(entry, event): told of keys.
  // number: from 1; null: to be added.
  constructor(app, options, number, record) {
    this.#app = app;
    this.#options = options;
    this.number = number;
    this.fields = options.specs.map((spec) => field_of(spec));
    this.root = options.layout(this);
    this.root.addEventListener("input", () => this.#typed());
    this.root.addEventListener("change", () => this.#typed());
    this.root.addEventListener("focusout", (event) => this.#left(event));
    this.root.addEventListener("keydown", (event) => this.#key(event));
    this.#number(number);
    this.take(number, record);
  }
  #number(number) {
    const { single, thing } = this.#options;
    this.number = number;
    this.called = single ? thing : number === null ? `new ${thing}` : `${thing} ${number}`;
    for (const field of this.fields) field.name_for(this.called);
    this.#options.numbered?.(this);
  }
  get adds() {
    return this.number === null && !this.#options.single;
  }
  get dirty() {
    return this.fields.some((field) => this.#differs(field));
  }
  #differs(field) {
    return !same(field.read(), this.#base[field.key]);
  }
  field(key) {
    return this.fields.find((one) => one.key === key);
  }
  value(key) {
    return this.field(key).read();
  }

  // As the house has it now; what is typed and differs stays.
  take(number, record) {
    if (number !== this.number) this.#number(number);
    this.record = record ?? null;
    const shown = record ?? this.#options.start?.() ?? {};
    for (const field of this.fields) {
      const differs = field.key in this.#base && this.#differs(field);
      field.refresh();
      this.#base[field.key] = field.of(shown);
      if (!differs) field.show(this.#base[field.key]);
    }
    this.#tell();
  }
  // The typed values by key, for a draft; and back.
  typed() {
    return Object.fromEntries(this.fields.filter((f) => this.#differs(f)).map((f) => [f.key, f.read()]));
  }
  retype(values) {
    for (const field of this.fields) if (field.key in values) field.show(values[field.key]);
    this.#tell();
  }
  discard() {
    for (const field of this.fields) field.show(this.#base[field.key]);
    this.#refused = "";
    this.#options.kept();
    this.#tell();
  }

  #typed() {
    this.#options.kept();
    this.#tell();
  }
  // Another word than the one of a fault ends its marks.
  #tell(text = "") {
    if (!text) this.#unmark();
    this.note.textContent = text || (this.dirty ? this.#waiting() : "");
    this.root.classList.toggle("dirty", this.dirty);
  }
  #waiting() {
    const lacks = this.#options.lacks?.(this) ?? "";
    const how = "it is when you leave it or press Enter; Escape takes back what was typed";
    return `Not saved yet: ${lacks || how}.`;
  }

  #edits() {
    const set = {};
    const clear = [];
    for (const field of this.fields) {
      const value = field.read();
      if (this.adds ? is_empty(value) : !this.#differs(field)) continue;
      if (is_empty(value) && value !== false) clear.push(field.key);
      else set[field.key] = value;
    }
    const { kind, single } = this.#options;
    if (this.adds) return [{ verb: "add", kind, name: "", set }];
    return [{ verb: "set", kind, name: single ? "" : `#${this.number}`, set, clear }];
  }
  // What the program calls this entry.
  #called() {
    const { kind, single } = this.#options;
    if (single) return [kind];
    const number = this.number ?? this.#app.house.house[kind].length + 1;
    return kind === "reading" ? [`reading ${number} at "${this.value("at")}"`] : [`${kind} ${number}`];
  }
  #fault_told(fault) {
    const field = this.field(key_of(fault, this.#called()));
    if (field) {
      this.#marked.push(field.control);
      mark(field.control, this.note.id);
    }
    return `${field?.spec.label ?? fault.where}: ${fault_text(fault)}`;
  }
  #unmark() {
    for (const control of this.#marked) unmark(control, this.note.id);
    this.#marked = [];
  }
  // False where something typed is still unsaved.
  save() {
    this.#last = this.#last.then(() => this.#save());
    return this.#last;
  }
  async #save() {
    if (!this.dirty) return true;
    if (this.#options.lacks?.(this)) return false;
    const sent = this.fields.map((field) => field.read());
    let why = "the program cannot be reached.";
    const refused = (faults) => (why = faults.map((fault) => this.#fault_told(fault)).join(" "));
    const saved = await this.#app.edit(this.#options.label(this), this.#edits(), refused);
    if (!saved) {
      this.#refused = JSON.stringify(sent);
      this.#tell(`Not saved: ${why} What is typed is kept.`);
      return false;
    }
    this.fields.forEach((field, i) => {
      if (same(field.read(), sent[i])) field.show(this.#base[field.key]); // typed on meanwhile: stays
    });
    this.#typed();
    return true;
  }
  #left(event) {
    if (this.root.contains(event.relatedTarget)) return;
    if (JSON.stringify(this.fields.map((field) => field.read())) !== this.#refused) this.save();
  }
  #key(event) {
    if (event.key === "Escape" && this.dirty) {
      event.preventDefault();
      this.discard();
      this.#app.say("What was typed is taken back.");
    } else this.#options.along?.(this, event);
  }
}
