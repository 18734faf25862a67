// The fields of readings, findings and the visit. Each holds what is typed: a text, true or false, or names.
import { h, fill } from "./dom.js";

let serial = 0;

// A figure as typed, with the decimal comma of half of the world; what is no figure stays as it is.
const figure = (text) => text.replace(/^(\d+),(\d{1,2})(?=\s*[^\d.,]*$)/, "$1.$2");
// "2026-03-14 10:20" as the description writes it.
const moment = (text) => {
  const found = /^(\d{4}-\d\d-\d\d)[ T]+(\d?\d):(\d\d)(?::(\d\d))?$/.exec(text);
  return found ? `${found[1]}T${found[2].padStart(2, "0")}:${found[3]}:${found[4] ?? "00"}` : text;
};

class Field {
  constructor(spec, control) {
    this.key = spec.key;
    this.spec = spec;
    this.control = control;
    control.id = `r-${spec.key}-${++serial}`;
    control.dataset.key = spec.key;
    if (spec.measured) control.classList.add("measured");
    this.root = h(
      "div.r-field",
      { "data-field": spec.key, class: spec.measured ? "of-measured" : "" },
      h("label", { for: control.id }, spec.label),
      control,
    );
  }
  // whose: "reading 3", for who cannot see the row.
  name_for(whose) {
    this.control.setAttribute("aria-label", `${this.spec.label}, ${whose}`);
  }
  of(record) {
    const value = record?.[this.key];
    return value === undefined ? "" : String(value);
  }
  read() {
    return this.control.value.trim();
  }
  show(value) {
    this.control.value = value;
  }
  refresh() {}
}

class FigureField extends Field {
  read() {
    return figure(super.read());
  }
}

class TimeField extends Field {
  read() {
    return moment(super.read());
  }
  show(value) {
    super.show(value.replace("T", " ").replace(/^(\S+ \d\d:\d\d):00$/, "$1"));
  }
}

class FlagField extends Field {
  of(record) {
    return record?.[this.key] === true;
  }
  read() {
    return this.control.checked;
  }
  show(value) {
    this.control.checked = value;
  }
}

// choices(): options, or groups {label, names}; a value that is none of them stays and can be seen.
class ChoiceField extends Field {
  #made = "";
  constructor(spec) {
    super(spec, h("select"));
    this.refresh();
  }
  refresh() {
    const groups = this.spec.choices();
    const made = JSON.stringify(groups);
    if (made === this.#made) return;
    this.#made = made;
    const { value } = this.control;
    const option = (name) => h("option", { value: name }, name);
    fill(
      this.control,
      h("option", { value: "" }, "–"),
      groups.map((one) =>
        typeof one === "string" ? option(one) : h("optgroup", { label: one.label }, one.names.map(option)),
      ),
    );
    this.show(value);
  }
  show(value) {
    if (![...this.control.options].some((one) => one.value === value)) {
      this.control.append(h("option", { value }, value));
    }
    this.control.value = value;
  }
}

// Names out of many, ticked in a list that opens below.
class NamesField extends Field {
  #names = [];
  #list = h("div.r-names");
  #open = h("div.r-names-of", { hidden: true }, this.#list);
  #told = "";
  constructor(spec) {
    super(spec, h("button.r-names-button", { type: "button", "aria-expanded": "false" }));
    this.control.addEventListener("click", () => this.#toggle());
    this.pane = this.#open;
    this.refresh();
  }
  name_for(whose) {
    this.#told = `${this.spec.label}, ${whose}`;
    this.#tell();
  }
  of(record) {
    return record?.[this.key] ?? [];
  }
  read() {
    return [...this.#names];
  }
  show(names) {
    this.#names = [...names];
    for (const box of this.#list.querySelectorAll("input")) box.checked = names.includes(box.value);
    this.#tell();
  }
  refresh() {
    const all = this.spec.choices();
    if (JSON.stringify(all) === this.#list.dataset.made) return;
    this.#list.dataset.made = JSON.stringify(all);
    fill(
      this.#list,
      h("p.note", null, "Loads known to be on:"),
      all.map((name) =>
        h(
          "label",
          null,
          h("input", {
            type: "checkbox",
            value: name,
            checked: this.#names.includes(name),
            onchange: (event) => this.#tick(name, event.target.checked),
          }),
          ` ${name}`,
        ),
      ),
    );
  }
  #tick(name, on) {
    this.#names = on ? [...this.#names, name] : this.#names.filter((one) => one !== name);
    this.#tell();
  }
  #tell() {
    const text =
      this.#names.length === 0
        ? "–"
        : this.#names.length === 1
          ? this.#names[0]
          : `${this.#names.length} loads`;
    this.control.textContent = text;
    this.control.setAttribute("aria-label", `${this.#told}: ${this.#names.join(", ") || "none given"}`);
  }
  #toggle() {
    this.#open.hidden = !this.#open.hidden;
    this.control.setAttribute("aria-expanded", String(!this.#open.hidden));
    if (!this.#open.hidden) this.#list.querySelector("input")?.focus();
  }
}

const text_input = (spec) =>
  h("input", { type: "text", autocomplete: "off", placeholder: spec.placeholder ?? "" });

const figure_input = () => h("input", { type: "text", inputmode: "decimal", autocomplete: "off" });

// spec: {key, label, kind, choices(), measured, placeholder}.
export function field_of(spec) {
  switch (spec.kind) {
    case "figure":
      return new FigureField(spec, figure_input());
    case "time":
      return new TimeField(spec, text_input(spec));
    case "flag":
      return new FlagField(spec, h("input", { type: "checkbox" }));
    case "choice":
      return new ChoiceField(spec);
    case "names":
      return new NamesField(spec);
    case "long":
      return new Field(spec, h("textarea", { rows: 2 }));
    default:
      return new Field(spec, text_input(spec));
  }
}
