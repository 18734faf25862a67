// A circuit moved by two lists, for whoever neither drags nor carries.
import { h, fill } from "./dom.js";
import { seats_in } from "./even_trying.js";

export class MoveForm {
  #app;
  #trying;
  #panels = [];
  #made = "";
  #circuit = h("select", { id: "ev-circuit", "data-move": "circuit" });
  #space = h("select", { id: "ev-space", "data-move": "space" });
  root = h(
    "form.ev-move",
    { "aria-label": "Move a circuit", onsubmit: (event) => this.#submit(event) },
    h("label", { for: "ev-circuit" }, "Move circuit"),
    this.#circuit,
    h("label", { for: "ev-space" }, "to space"),
    this.#space,
    h("button", { type: "submit", "data-action": "move" }, "Try it there"),
  );

  constructor(app, trying) {
    this.#app = app;
    this.#trying = trying;
  }
  // What is chosen stays chosen.
  show(panels) {
    const made = JSON.stringify(panels);
    if (made === this.#made) return;
    this.#made = made;
    this.#panels = panels;
    const seats = seats_in(panels);
    this.#fill(
      this.#circuit,
      [...seats].map(([circuit, { panel, space }]) =>
        h("option", { value: circuit }, `${circuit} (${this.#place(panel, space)})`),
      ),
    );
    this.#fill(
      this.#space,
      panels.map(({ panel, spaces }) =>
        h(
          "optgroup",
          { label: panel },
          spaces.map((one) =>
            h("option", { value: JSON.stringify({ panel, space: one.space }) }, this.#space_text(one)),
          ),
        ),
      ),
    );
  }
  #fill(select, options) {
    const { value } = select;
    fill(select, options);
    if ([...select.options].some((one) => one.value === value)) select.value = value;
  }
  #place(panel, space) {
    return this.#panels.length > 1 ? `${panel} ${space}` : `space ${space}`;
  }
  #space_text({ space, leg, holds }) {
    const held = holds.map((seat) => seat.circuit ?? `feeds ${seat.feeds}`).join(", ");
    return `${space}${leg ? `, ${leg}` : ""}: ${held || "free"}`;
  }

  async #submit(event) {
    event.preventDefault();
    const circuit = this.#circuit.value;
    if (!circuit || !this.#space.value) return;
    const { panel, space } = JSON.parse(this.#space.value);
    const made = await this.#trying.add({ circuit, space, panel });
    if (made === "same") this.#app.say(`${circuit} sits there already.`);
    if (made === "tried") this.#app.say(`${circuit} is tried in space ${space} of ${panel}.`);
  }
}
