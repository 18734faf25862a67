// A multiwire circuit: what its circuits share, and parting it again.
import { h, fill } from "./dom.js";
import { entry, known, run_text } from "./enter_find.js";
import { RecordForm } from "./enter_form.js";
import { Cable } from "./enter_cable.js";
import { leg_signs } from "./enter_labels.js";
import { multiwire_fields, same_legs, sum_sentence } from "./enter_join.js";
import { parting } from "./enter_part.js";
import { agreed } from "./enter_remove.js";

export class MultiwirePage {
  #view;
  #form;
  #head = h("div.e-head");
  #circuits = h("div");
  constructor(view, name) {
    this.#view = view;
    this.name = name;
    const { app } = view;
    const { main, more } = multiwire_fields(app, true);
    this.#form = view.forms.get(
      `multiwire:${name}`,
      (id) =>
        new RecordForm(app, { id, kind: "multiwire", name, main, more, closed: () => view.leave_page() }),
    );
    this.cable = new Cable(view, "multiwire", name);
    this.acts = h(
      "div.e-acts",
      null,
      h(
        "button",
        { type: "button", "data-action": "part", "data-key": "part", onclick: () => this.#ask() },
        "Part it again …",
      ),
    );
    this.ask = h("div.e-join", { hidden: true });
    this.root = h(
      "div",
      null,
      this.#head,
      this.#circuits,
      this.#form.root,
      this.acts,
      this.ask,
      this.cable.root,
    );
  }
  draw() {
    const { app } = this.#view;
    this.name = this.cable.name = this.#form.name;
    const multiwire = entry(app, "multiwire", this.name);
    for (const part of [this.acts, this.#circuits, this.cable.root]) part.hidden = !multiwire;
    if (!multiwire) return;
    fill(this.#head, h("h3", null, this.name), h("span.note", null, "multiwire circuit"));
    const same = same_legs(app, multiwire.circuits);
    fill(
      this.#circuits,
      h(
        "ul.e-partners",
        null,
        multiwire.circuits.map((name) =>
          h(
            "li",
            null,
            h(
              "button.quiet",
              {
                type: "button",
                "data-key": `circuit:${name}`,
                onclick: () => this.#view.choose({ kind: "circuit", name }, true),
              },
              name,
            ),
            " ",
            leg_signs(app, known(app, name)?.legs ?? []),
          ),
        ),
      ),
      same.length > 0 && h("p.over", null, sum_sentence(same)),
    );
    this.cable.draw();
  }
  focus(key) {
    this.#form.focus(key);
  }

  // Outlets on the shared run have to stay with one circuit.
  #ask() {
    const { app } = this.#view;
    const { circuits } = entry(app, "multiwire", this.name);
    const shared = app.house.house.outlet.some((one) => one.on === this.name);
    if (!shared || circuits.length < 2) return this.#part(circuits[0]);
    this.ask.hidden = !this.ask.hidden;
    fill(
      this.ask,
      h("p", null, "Its outlets on the shared run stay with which circuit?"),
      h(
        "div.e-acts",
        null,
        circuits.map((name) =>
          h("button", { type: "button", "data-part-keeper": name, onclick: () => this.#part(name) }, name),
        ),
      ),
    );
    this.ask.querySelector("button")?.focus();
  }
  async #part(keeper) {
    const { app } = this.#view;
    const { label, edits, outlets, cut, moved, runs } = parting(app, this.name, keeper);
    const listed = (all) => all.map((one) => `“${one}”`).join(", ");
    const sentences = [
      outlets.length > 0 && `Outlets that stay with ${keeper}: ${listed(outlets.map((one) => one.name))}.`,
      cut.length > 0 &&
        "Outlets of the other circuit that followed one of these begin at the end of its own run: " +
          `${listed(cut.map((one) => one.name))}.`,
      moved.length > 0 &&
        `Loads of the other circuit at these outlets go to the end of its run: ${listed(moved)}.`,
      ...runs.map(([name, run]) =>
        run
          ? `${name}: its run from the panel becomes ${run_text(run)}, the shared run and its own together.`
          : `${name}: its run is left as it is; give the whole way from the panel.`,
      ),
    ].filter(Boolean);
    const lead = "Each circuit then has a neutral of its own in the description.";
    if (
      !(await agreed(this.#view.root, `Part the multiwire “${this.name}”?`, {
        lead,
        sentences,
        yes: "Part it",
      }))
    )
      return;
    if (await app.edit(label, edits)) this.#view.choose({ kind: "circuit", name: keeper }, true);
  }
}
