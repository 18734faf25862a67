// The house's own facts, folded: name and texts, supply, transformer, service, panels, dwelling,
// scenarios. The forms of tables that are there once are made from their keys.
import { h, fill } from "./dom.js";
import { list } from "./enter_find.js";
import { UnitField } from "./enter_fields.js";
import { field_of } from "./enter_keys.js";
import { length_field } from "./enter_outlet_form.js";
import { RecordForm } from "./enter_form.js";
import { Scenarios } from "./enter_scenarios.js";
import { texts_form } from "./enter_texts.js";
import { step_of } from "./enter_labels.js";
import { agreed } from "./enter_remove.js";
import { keeping_focus } from "./enter_focus.js";

const kTitles = {
  house: "Name and texts",
  supply: "Supply",
  transformer: "Transformer",
  service: "Service",
  panel: "Panels",
  dwelling: "Dwelling, for the service calculation",
  scenario: "Scenarios",
};
const kNotes = {
  supply: "Measured: one figure for every leg, or one for each, parted by commas.",
  transformer: "Without one the source is taken as ideal.",
  service: "From the source to the first panel. Without it the source is at that panel.",
};
const kRemovable = ["transformer", "service", "dwelling"];

function area_field(app) {
  const metric = (app.house.house.supply?.system ?? "").startsWith("230");
  return new UnitField({
    pairs: [
      ["floor_area_ft2", "ft²"],
      ["floor_area_m2", "m²"],
    ],
    label: "Floor area, outside dimensions",
    unit: metric ? "floor_area_m2" : "floor_area_ft2",
    name: "floor_area",
  });
}

// What stands first; every other key is under "More".
const kFirst = {
  supply: (app) => ["system", "volts"].map((key) => field_of(app, "supply", key)),
  transformer: () => [],
  service: (app) => [
    ...["breaker_a", "conductor", "neutral"].map((key) => field_of(app, "service", key)),
    length_field(app),
    field_of(app, "service", "earth_return_ohms"),
  ],
  dwelling: (app) => [area_field(app)],
};

const fed_text = ({ spaces, fed_from }) =>
  ` ${spaces} spaces, fed ${fed_from ? `from ${fed_from}` : "by the service"}`;

const kSingle = ["house", ...Object.keys(kFirst)];

function single_form(app, kind) {
  const first = kFirst[kind](app);
  const used = new Set(first.flatMap((field) => field.keys));
  const rest = app.words.keys[kind]
    .map((one) => one.key)
    .filter((key) => !used.has(key))
    .map((key) => field_of(app, kind, key));
  const folds = kind === "service";
  return new RecordForm(app, {
    id: `${kind}:`,
    kind,
    name: "",
    main: folds ? first : [...first, ...rest],
    more: folds ? rest : [],
  });
}

export class Facts {
  #view;
  #folds = {};
  #bodies = {};
  #panels_made = "";
  #removers = {};
  root = h(
    "section.e-facts",
    { id: "facts", "aria-labelledby": "facts-title" },
    h("h3", { id: "facts-title" }, "House facts"),
  );

  constructor(view) {
    this.#view = view;
    this.scenarios = new Scenarios(view);
    for (const [kind, text] of Object.entries(kTitles)) this.root.append(this.#fold(kind, text));
    this.#bodies.scenario.append(this.scenarios.root);
    for (const kind of kSingle) if (view.state.fact_is_open(kind)) this.#make(kind);
  }
  #fold(kind, text) {
    const body = (this.#bodies[kind] = h("div.e-fold-body"));
    const fold = h(
      "details.plate.e-fold",
      {
        "data-facts": kind,
        open: this.#view.state.fact_is_open(kind),
        ontoggle: () => this.#toggled(kind, fold.open),
      },
      h("summary", null, text),
      body,
    );
    return (this.#folds[kind] = fold);
  }
  // Forms are made once they are seen.
  #toggled(kind, open) {
    this.#view.state.set_fact(kind, open);
    if (open && kSingle.includes(kind) && !this.form(kind)) this.#make(kind);
  }
  #make(kind) {
    const { app, forms } = this.#view;
    const id = `${kind}:`;
    const again = () => {
      forms.drop(id);
      this.#make(kind);
      this.form(kind).focus();
    };
    const form = forms.get(id, () => (kind === "house" ? texts_form(app, again) : single_form(app, kind)));
    const remover =
      kRemovable.includes(kind) &&
      h(
        "button.e-remove",
        { type: "button", "data-action": "remove", onclick: () => this.#remove(kind) },
        `Remove the ${kind}`,
      );
    if (remover) {
      this.#removers[kind] = remover;
      remover.hidden = !app.house.house[kind];
    }
    fill(this.#bodies[kind], kNotes[kind] && h("p.note", null, kNotes[kind]), form.root, remover);
  }
  form(kind) {
    return this.#view.forms.get(`${kind}:`);
  }
  async #remove(kind) {
    const { app, root } = this.#view;
    const lead = "Its figures are taken out of the description.";
    if (!(await agreed(root, `Remove the ${kind}?`, { lead, yes: "Remove" }))) return;
    app.edit(step_of("Remove", kind, ""), [{ verb: "remove", kind, name: "" }]);
  }

  draw() {
    const { house } = this.#view.app.house;
    for (const [kind, remover] of Object.entries(this.#removers)) remover.hidden = !house[kind];
    this.scenarios.draw();
    const panels = list(this.#view.app, "panel");
    const made = JSON.stringify(panels);
    if (made === this.#panels_made) return;
    this.#panels_made = made;
    keeping_focus(this.#bodies.panel, () =>
      fill(
        this.#bodies.panel,
        h(
          "ul.e-things",
          null,
          panels.map((panel) =>
            h(
              "li",
              null,
              h(
                "button",
                {
                  type: "button",
                  "data-key": `facts-panel:${panel.name}`,
                  onclick: () => this.#view.choose({ kind: "panel", name: panel.name }, true),
                },
                panel.name,
                h("span.note", null, fed_text(panel)),
              ),
            ),
          ),
        ),
        h(
          "button",
          {
            type: "button",
            "data-action": "add-panel",
            "data-key": "add-panel",
            onclick: () => this.#view.feed_panel(null, null),
          },
          "Add a panel",
        ),
      ),
    );
  }
  // To a field: kind of a fold, key of its form.
  focus(kind, key) {
    this.#folds[kind].open = true;
    this.#toggled(kind, true);
    const form = kSingle.includes(kind) ? this.form(kind) : null;
    if (form) form.focus(key);
    else this.#folds[kind].querySelector("summary").focus();
  }
}
