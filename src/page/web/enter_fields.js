// The fields that forms are made of, each for one key of the description, or for a value with its
// unit. A field holds a draft: what stands in it, as JSON keeps it.
import { h, fill } from "./dom.js";

let serial = 0;
export const fresh_id = (what) => `e-${what}-${++serial}`;

// What every field does: of(record) gives the draft of an entry, edits(draft) what saving it sets.
export class Field {
  constructor({ keys, label, control, help = "", note = "" }) {
    this.keys = keys;
    this.control = control;
    control.id ||= fresh_id(keys[0]);
    const told = help && h("span.e-help", { id: `${control.id}-help` }, help);
    if (told) control.setAttribute("aria-describedby", told.id);
    this.root = h(
      "div.e-field",
      { "data-field": keys[0] },
      h("label", { for: control.id }, label),
      this.laid(),
      told,
      note,
    );
  }
  laid() {
    return this.control;
  }
  of(record) {
    const value = record[this.keys[0]];
    return value === undefined ? "" : String(value);
  }
  read() {
    return this.control.value.trim();
  }
  show(draft) {
    this.control.value = draft;
  }
  // {set, clear}: `record` is what is there now.
  edits(draft, record) {
    const [key] = this.keys;
    if (draft !== "") return { set: { [key]: draft }, clear: [] };
    return { set: {}, clear: record[key] === undefined ? [] : [key] };
  }
  refresh() {}
  focus() {
    this.control.focus();
  }
}

// What commas part; "" where nothing is left.
function parts_of(text) {
  const parts = text
    .split(",")
    .map((part) => part.trim())
    .filter(Boolean);
  return parts.length > 0 ? parts : "";
}

export class ListField extends Field {
  of(record) {
    return [record[this.keys[0]] ?? []].flat().join(", ");
  }
  edits(draft, record) {
    return super.edits(parts_of(draft), record);
  }
}

// { "3" = 81 }, written as "3=81, 5=40".
export class TableField extends Field {
  of(record) {
    return Object.entries(record[this.keys[0]] ?? {})
      .map(([k, v]) => `${k}=${v}`)
      .join(", ");
  }
  edits(draft, record) {
    return super.edits(parts_of(draft), record);
  }
}

// A flag that is there always: a box to tick.
export class FlagField extends Field {
  laid() {
    this.control.type = "checkbox";
    return h("span.e-check", null, this.control);
  }
  of(record) {
    return record[this.keys[0]] === true;
  }
  read() {
    return this.control.checked;
  }
  show(draft) {
    this.control.checked = draft;
  }
  edits(draft) {
    return { set: { [this.keys[0]]: draft }, clear: [] };
  }
}

// One of several; what they are may follow from the house and from the rest of the form.
export class ChoiceField extends Field {
  #choices;
  constructor(options, choices) {
    super({ ...options, control: h("select", { name: options.keys[0] }) });
    this.#choices = choices;
    this.refresh();
  }
  refresh(form) {
    const now = this.control.value;
    const choices = this.#choices(form);
    const made = JSON.stringify(choices);
    if (made === this.control.dataset.made) return;
    this.control.dataset.made = made;
    fill(
      this.control,
      choices.map(([value, text]) => h("option", { value }, text)),
    );
    this.control.value = choices.some(([value]) => value === now) ? now : (choices[0]?.[0] ?? "");
  }
  // What is not among the choices is shown as it is: the entry says so.
  show(draft) {
    const there = [...this.control.options].some((one) => one.value === draft);
    if (!there && draft !== "") this.control.append(h("option", { value: draft }, draft));
    this.control.value = draft;
    if (this.control.selectedIndex < 0) this.control.selectedIndex = 0;
  }
}

// Several of a few: boxes to tick.
export class TickField extends Field {
  #names;
  constructor({ keys, label }, names) {
    super({ keys, label, control: h("div.e-ticks", { role: "group", "aria-label": label }) });
    this.#names = names;
    this.root.querySelector("label").replaceWith(h("span.e-label", null, label));
    this.refresh();
  }
  refresh() {
    const on = this.read();
    const made = JSON.stringify(this.#names());
    if (made === this.control.dataset.made) return;
    this.control.dataset.made = made;
    fill(
      this.control,
      this.#names().map((name) =>
        h("label", null, h("input", { type: "checkbox", name: this.keys[0], value: name }), ` ${name}`),
      ),
    );
    this.show(on);
  }
  #boxes() {
    return [...this.control.querySelectorAll("input")];
  }
  of(record) {
    const on = record[this.keys[0]] ?? [];
    return this.#names().filter((name) => on.includes(name));
  }
  read() {
    return this.#boxes()
      .filter((box) => box.checked)
      .map((box) => box.value);
  }
  show(draft) {
    for (const box of this.#boxes()) box.checked = draft.includes(box.value);
  }
  edits(draft, record) {
    return super.edits(draft.length > 0 ? draft : "", record);
  }
  focus() {
    (this.#boxes()[0] ?? this.control).focus();
  }
}

// A number with its unit, of which each is a key of its own: length_ft or length_m, watts or amps.
export class UnitField extends Field {
  constructor({ pairs, label, help, unit, name }) {
    const control = h("input", { name: unit ?? pairs[0][0], inputmode: "decimal", autocomplete: "off" });
    const units = h(
      "select",
      { name: `${name}_unit`, "aria-label": `Unit of: ${label}` },
      pairs.map(([key, text]) => h("option", { value: key }, text)),
    );
    super({ keys: pairs.map(([key]) => key), label, control, help });
    this.units = units;
    this.usual = unit ?? pairs[0][0];
    this.pairs = pairs;
    units.value = this.usual;
    control.addEventListener("change", () => (units.value = control.name = this.read().unit));
    units.addEventListener("change", () => (control.name = units.value));
    const both = h("span.e-unit");
    control.replaceWith(both);
    both.append(control, units);
  }
  of(record) {
    const key = this.keys.find((one) => record[one] !== undefined);
    return { unit: key ?? this.usual, value: key ? String(record[key]) : "" };
  }
  read() {
    const value = this.control.value.trim();
    return { unit: this.#unit_in(value), value };
  }
  // "45 m" is in metres whatever is chosen beside it; without a unit the one that is chosen.
  #unit_in(value) {
    const chosen = this.units.value;
    const word = (text) => text.split(" ")[0].toLowerCase();
    const typed = /[^\d\s.,-].*$/.exec(value)?.[0].toLowerCase() ?? "";
    const units = [typed, typed.replace(/^[km](?=.)/, "")]; // "kW" is W too
    const named = this.pairs.filter(([, text]) => units.includes(word(text))).map(([key]) => key);
    return named.length === 0 || named.includes(chosen) ? chosen : named[0];
  }
  show({ unit, value }) {
    this.units.value = this.control.name = unit;
    this.control.value = value;
  }
  edits({ unit, value }, record) {
    const clear = this.keys.filter((key) => record[key] !== undefined && (key !== unit || value === ""));
    return { set: value === "" ? {} : { [unit]: value }, clear };
  }
  // A unit without a number says nothing.
  same(a, b) {
    return a.value === b.value && (a.unit === b.unit || a.value === "");
  }
}
