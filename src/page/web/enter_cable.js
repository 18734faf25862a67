// A cable as it runs from the panel: its outlets in order, branches below where they part, and the
// loads at each. Forms open in place.
import { h, fill } from "./dom.js";
import { leg_signs } from "./enter_labels.js";
import { entry, list, known, run_text, rating_text } from "./enter_find.js";
import { cable_of, after_of, first_of } from "./enter_tree.js";
import { outlet_form, new_outlet_form } from "./enter_outlet_form.js";
import { load_form, new_load_form } from "./enter_load_form.js";
import { keeping_focus } from "./enter_focus.js";

const signs = (app, circuit) => leg_signs(app, known(app, circuit)?.legs ?? []);

export class Cable {
  #view;
  #app;
  #kind;
  #made = "";
  root = h("section.e-cable", { "aria-label": "Cable, outlets and loads" });

  constructor(view, kind, name) {
    this.#view = view;
    this.#app = view.app;
    this.#kind = kind;
    this.name = name;
  }

  // Drawn anew only where something that it shows is another.
  draw() {
    const { house, legs, loads } = this.#app.house;
    const made = JSON.stringify([
      this.name,
      house.circuit,
      house.multiwire,
      house.outlet,
      house.load,
      legs,
      loads,
      this.#view.state.open,
    ]);
    if (made === this.#made) return;
    this.#made = made;
    keeping_focus(this.root, () => this.#fill());
  }
  #fill() {
    const cable = cable_of(this.#app, this.#kind, this.name);
    const { multiwire, circuits } = cable;
    const from = multiwire ?? entry(this.#app, "circuit", this.name);
    fill(
      this.root,
      this.#lost(),
      h("h4", null, multiwire ? `Cable of ${multiwire.name}` : "Cable from the panel"),
      h(
        "p.note",
        null,
        multiwire ? "Shared run from the panel: " : "Run to the first outlet: ",
        run_text(from) || "not described, counts as 0 ohms",
        ".",
      ),
      this.#lines(cable),
      this.#adder(`new-outlet:${this.name}`, "Add an outlet", { "data-action": "add-outlet" }, (id) =>
        new_outlet_form(this.#view, id, { kind: this.#kind, on: this.name, after: null }),
      ),
      circuits.map((circuit) => this.#at_end(circuit, circuits.length > 1)),
    );
  }

  // One line for each outlet that begins at the panel, or at the end of a shared run.
  #lines(cable) {
    const firsts = first_of(cable);
    if (firsts.length === 0) return null;
    if (firsts.length === 1) return this.#line(cable, firsts[0]);
    return h(
      "ol.e-branches",
      null,
      firsts.map((one) => h("li", null, this.#line(cable, one))),
    );
  }
  #line(cable, first) {
    const items = [];
    for (let at = first; at;) {
      const next = after_of(cable, at.name);
      const branches =
        next.length > 1
          ? h(
              "ol.e-branches",
              null,
              next.map((one) => h("li", null, this.#line(cable, one))),
            )
          : null;
      items.push(this.#outlet(cable, at, branches));
      at = next.length === 1 ? next[0] : null;
    }
    return h("ol.e-line", null, items);
  }
  #outlet(cable, outlet, branches) {
    const id = `outlet:${outlet.name}`;
    const hots = outlet.on === cable.multiwire?.name ? cable.circuits : [outlet.on];
    const whose =
      cable.multiwire &&
      h(
        "span.e-whose",
        null,
        hots.length > 1 ? "all hots: " : `${hots[0]}: `,
        hots.map((one) => signs(this.#app, one)),
      );
    return h(
      "li.e-outlet",
      { "data-outlet": outlet.name },
      h(
        "div.e-outlet-head",
        null,
        this.#opener(id, outlet.name, "e-outlet-name"),
        whose,
        h("span.note", null, run_text(outlet)),
        this.#toggle(`new-outlet-after:${outlet.name}`, "Outlet after", {
          "data-action": "add-outlet",
          "data-after": outlet.name,
          "aria-label": `Add an outlet after ${outlet.name}`,
        }),
        this.#toggle(`new-load:${outlet.name}`, "Add load", {
          "data-action": "add-load",
          "data-at": outlet.name,
          "aria-label": `Add a load at ${outlet.name}`,
        }),
      ),
      this.#form(id, () => outlet_form(this.#view, id, outlet.name), "outlet", outlet.name),
      this.#form(`new-outlet-after:${outlet.name}`, (made) =>
        new_outlet_form(this.#view, made, { kind: this.#kind, on: this.name, after: outlet.name }),
      ),
      this.#loads(outlet.name),
      this.#form(`new-load:${outlet.name}`, (made) => this.#new_load(made)),
      branches,
    );
  }
  #loads(at) {
    const loads = list(this.#app, "load").filter((one) => one.at === at);
    if (loads.length === 0) return null;
    return h(
      "ul.e-loads",
      null,
      loads.map((load) => this.#load(load)),
    );
  }
  #load(load) {
    const id = `load:${load.name}`;
    const told = this.#app.house.loads.find((one) => one.load === load.name);
    const state = load.switching !== "free" ? load.switching : load.on ? "on" : "off";
    return h(
      "li.e-load",
      { "data-load": load.name },
      h(
        "div.e-load-head",
        null,
        this.#opener(id, load.name, "e-load-name"),
        h("span", { class: load.measured_amps ? "measured" : "" }, rating_text(load)),
        h("span.note", null, [told?.legs ?? load.circuit, state].filter(Boolean).join(", ")),
      ),
      this.#form(id, () => load_form(this.#view, id, load.name), "load", load.name),
    );
  }
  // Loads that sit directly at the end of a circuit's run.
  #at_end(circuit, several) {
    const where = several ? `at the end of the run of ${circuit}` : "at the end of the circuit's run";
    const loads = this.#loads(circuit);
    return h(
      "div.e-end",
      { "data-end-of": circuit },
      loads && h("p.note", null, `Loads ${where}, without an outlet:`),
      loads,
      this.#adder(
        `new-load-on:${circuit}`,
        several ? `Add a load ${where}` : "Add a load directly",
        { "data-action": "add-load", "data-at": circuit },
        (id) => this.#new_load(id),
      ),
    );
  }
  // Where it goes is in its id, which follows a rename.
  #new_load(id) {
    let form = null;
    const at = () => (form?.id ?? id).slice(id.indexOf(":") + 1);
    form = new_load_form(this.#view, id, at, this.#kind === "circuit" ? this.name : null);
    return form;
  }

  // Half-typed forms of what is gone from the house meanwhile.
  #lost() {
    const there = (id) => {
      const [what, ...rest] = id.split(":");
      const kind = { "new-load": "outlet", "new-outlet-after": "outlet", load: "load", outlet: "outlet" }[
        what
      ];
      return !kind || entry(this.#app, kind, rest.join(":"));
    };
    return this.#view.state.open
      .filter((id) => !there(id) && this.#view.forms.get(id)?.dirty)
      .map((id) =>
        h(
          "div.e-sub.e-lost",
          null,
          h(
            "p",
            null,
            `“${id.slice(id.indexOf(":") + 1)}” is no longer in the house. ` +
              "What was typed is kept here until it is closed.",
          ),
          this.#view.forms.get(id).root,
        ),
      );
  }

  // ---- forms in place ----
  #opener(id, text, css) {
    return h(
      "button",
      {
        type: "button",
        class: css,
        "data-key": id,
        "data-open": id,
        "aria-expanded": String(this.#view.state.is_open(id)),
        onclick: () => this.#view.toggle_form(id),
      },
      text,
    );
  }
  #toggle(id, text, props) {
    return h(
      "button.quiet",
      {
        type: "button",
        "data-key": id,
        "aria-expanded": String(this.#view.state.is_open(id)),
        onclick: () => this.#view.toggle_form(id),
        ...props,
      },
      text,
    );
  }
  #adder(id, text, props, make) {
    return h(
      "div.e-adder",
      null,
      h(
        "button",
        {
          type: "button",
          "data-key": id,
          "aria-expanded": String(this.#view.state.is_open(id)),
          onclick: () => this.#view.toggle_form(id),
          ...props,
        },
        text,
      ),
      this.#form(id, make),
    );
  }
  #form(id, make, kind, name) {
    if (!this.#view.state.is_open(id)) return null;
    const form = this.#view.forms.get(id, make);
    return h(
      "div.e-sub",
      null,
      form.root,
      kind &&
        h(
          "button.e-remove",
          {
            type: "button",
            "data-action": "remove",
            "data-remove": id,
            "data-key": `remove:${id}`,
            onclick: () => this.#view.remove(kind, form.name ?? name),
          },
          `Remove this ${kind}`,
        ),
    );
  }
}
