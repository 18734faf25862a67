// A panel's own facts, and a further panel that another one feeds.
import { h, fill } from "./dom.js";
import { entry, names, unique } from "./enter_find.js";
import { field_of } from "./enter_keys.js";
import { length_field } from "./enter_outlet_form.js";
import { RecordForm } from "./enter_form.js";

const kOwn = ["name", "spaces"];
const kFed = ["fed_from", "at_spaces", "breaker_a", "conductor"];

function fields(app, first) {
  const key_field = (key) => field_of(app, "panel", key);
  const main = first
    ? kOwn.map(key_field)
    : [...kOwn.map(key_field), ...kFed.map(key_field), length_field(app)];
  const used = new Set([
    ...main.flatMap((field) => field.keys),
    ...(first
      ? [
          "fed_from",
          "at_spaces",
          "breaker_a",
          "conductor",
          "neutral",
          "length_ft",
          "length_m",
          "hot_ohms",
          "neutral_ohms",
        ]
      : []),
  ]);
  const more = app.words.keys.panel
    .map((one) => one.key)
    .filter((key) => !used.has(key))
    .map(key_field);
  return { main, more };
}

export class PanelPage {
  #view;
  #form;
  #head = h("div.e-head");
  constructor(view, name) {
    this.#view = view;
    this.name = name;
    const { app } = view;
    this.#form = view.forms.get(
      `panel:${name}`,
      (id) =>
        new RecordForm(app, {
          id,
          kind: "panel",
          name,
          ...fields(app, names(app, "panel")[0] === name),
          closed: () => view.leave_page(),
        }),
    );
    this.acts = h(
      "div.e-acts",
      null,
      h(
        "button",
        {
          type: "button",
          "data-action": "remove",
          "data-key": "remove-panel",
          onclick: () => view.remove("panel", this.name),
        },
        "Remove panel",
      ),
    );
    this.root = h("div", null, this.#head, this.#form.root, this.acts);
  }
  draw() {
    this.name = this.#form.name;
    const panel = entry(this.#view.app, "panel", this.name);
    this.acts.hidden = !panel;
    fill(
      this.#head,
      h("h3", null, `Panel ${this.name}`),
      h("span.note", null, panel?.fed_from ? `fed from ${panel.fed_from}` : "fed by the service"),
    );
  }
  focus(key) {
    this.#form.focus(key);
  }
}

// at: {panel, space} of the breaker that feeds it, or null.
export class NewPanelPage {
  #form;
  constructor(view, { panel, space }) {
    const { app } = view;
    const { legs } = app.house;
    const free = () => unique(names(app, "panel"), names(app, "panel").length === 0 ? "Main" : "Subpanel");
    const { main, more } = fields(app, names(app, "panel").length === 0);
    const shown = () => (main[0].control.placeholder = free());
    const at_spaces = space ? (legs.length > 0 ? legs : ["", ""]).map((_, i) => space + 2 * i) : undefined;
    this.#form = view.forms.get(
      `new-panel:${panel ?? ""}:${space ?? ""}`,
      (id) =>
        new RecordForm(app, {
          id,
          kind: "panel",
          name: null,
          submit: "Add the panel",
          start: { fed_from: panel ?? names(app, "panel")[0], at_spaces },
          main,
          more,
          start_name: free,
          shown,
          typed: shown,
          closed: () => view.leave_page(),
          saved: (name) => {
            view.forms.drop(id);
            view.choose({ kind: "panel", name });
            view.stand_on_panel(name);
          },
        }),
    );
    this.root = h("div", null, h("div.e-head", null, h("h3", null, "A further panel")), this.#form.root);
  }
  draw() {}
  focus(key) {
    this.#form.focus(key);
  }
}
