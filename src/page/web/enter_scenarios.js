// Scenarios: which loads run at a time of day, or what share of the time.
import { h, fill } from "./dom.js";
import { list, names, unique } from "./enter_find.js";
import { field_of } from "./enter_keys.js";
import { RunsField } from "./enter_runs.js";
import { RecordForm } from "./enter_form.js";
import { keeping_focus } from "./enter_focus.js";

const fields = (app) => [field_of(app, "scenario", "name", { terse: true }), new RunsField(app)];

export class Scenarios {
  #view;
  #made = "";
  root = h("div");
  constructor(view) {
    this.#view = view;
  }
  draw() {
    const { app, state } = this.#view;
    const made = JSON.stringify([list(app, "scenario").map((one) => one.name), state.facts]);
    if (made === this.#made) return;
    this.#made = made;
    keeping_focus(this.root, () =>
      fill(
        this.root,
        h(
          "ul.e-things",
          null,
          names(app, "scenario").map((name) => this.#one(name)),
        ),
        this.#new(),
      ),
    );
  }
  #one(name) {
    const id = `scenario:${name}`;
    const { app, state } = this.#view;
    const open = state.fact_is_open(id);
    const form =
      open &&
      this.#view.forms.get(
        id,
        () =>
          new RecordForm(app, {
            id,
            kind: "scenario",
            name,
            main: fields(app),
            closed: (one) => this.#view.toggle_fact(one.id),
          }),
      );
    return h(
      "li",
      null,
      h(
        "button",
        {
          type: "button",
          "data-key": id,
          "data-open": id,
          "aria-expanded": String(open),
          onclick: () => this.#view.toggle_fact(id),
        },
        name,
      ),
      open &&
        h(
          "div.e-sub",
          null,
          form.root,
          h(
            "button.e-remove",
            {
              type: "button",
              "data-action": "remove",
              "data-key": `remove:${id}`,
              onclick: () => this.#view.remove("scenario", form.name),
            },
            "Remove this scenario",
          ),
        ),
    );
  }
  #new() {
    const id = "new-scenario:";
    const { app, state } = this.#view;
    const open = state.fact_is_open(id);
    const form =
      open &&
      this.#view.forms.get(id, () => {
        const main = fields(app);
        const free = () => unique(names(app, "scenario"), "Scenario 1");
        const shown = () => (main[0].control.placeholder = free());
        return new RecordForm(app, {
          id,
          kind: "scenario",
          name: null,
          submit: "Add the scenario",
          main,
          start_name: free,
          shown,
          typed: shown,
          closed: () => this.#view.toggle_fact(id),
          saved: () => this.#view.toggle_fact(id),
        });
      });
    return h(
      "div.e-adder",
      null,
      h(
        "button",
        {
          type: "button",
          "data-action": "add-scenario",
          "data-key": id,
          "aria-expanded": String(open),
          onclick: () => this.#view.toggle_fact(id),
        },
        "Add a scenario",
      ),
      open && form.root,
    );
  }
}
