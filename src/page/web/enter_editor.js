// What is chosen on a face, in one place: beside the faces where the window is wide, below its own
// row where it is narrow.
import { h, fill } from "./dom.js";
import { entry } from "./enter_find.js";
import { keeping_focus } from "./enter_focus.js";
import { CircuitPage, NewCircuitPage } from "./enter_circuit.js";
import { MultiwirePage } from "./enter_multiwire.js";
import { PanelPage, NewPanelPage } from "./enter_panel.js";

const kWide = "(min-width: 62rem)";
const kTall = 0.8; // of the window

function page_of(view, chosen) {
  if (chosen.kind === "multiwire") return new MultiwirePage(view, chosen.name);
  if (chosen.kind === "panel")
    return chosen.name === null ? new NewPanelPage(view, chosen) : new PanelPage(view, chosen.name);
  return chosen.name === null ? new NewCircuitPage(view, chosen) : new CircuitPage(view, chosen.name);
}

// {panel, space} of the row that it belongs to; space null: the panel's head.
function place_of(app, chosen) {
  if (chosen.name === null) return { panel: chosen.panel, space: chosen.space };
  if (chosen.kind === "panel") return { panel: chosen.name, space: null };
  const circuits =
    chosen.kind === "multiwire" ? (entry(app, "multiwire", chosen.name)?.circuits ?? []) : [chosen.name];
  for (const face of app.house.panels) {
    const seats = face.spaces.filter((space) => space.holds.some((seat) => circuits.includes(seat.circuit)));
    if (seats.length > 0) return { panel: face.panel, space: seats.at(-1).space };
  }
  return null;
}

export class Editor {
  #view;
  #page = null;
  #made = "";
  #place = null; // the last one known, for a circuit that is gone meanwhile
  #wide = matchMedia(kWide);
  #moved = () => this.place();
  #hint = h(
    "p.note",
    null,
    "Choose a space: a free one takes a new circuit, a taken one shows its circuit, cable and loads. ",
    "Arrow keys go from space to space, Enter opens one, M moves a circuit.",
  );
  #inline = h("div.e-inline", { role: "row" });
  #cell = h("div", { role: "gridcell", "aria-colspan": 3 });
  root = h("section.plate.e-editor", { id: "editor", "aria-label": "What is chosen" });
  side = h("div.e-side-slot");

  constructor(view) {
    this.#view = view;
    this.#inline.append(this.#cell);
    this.root.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !view.state.chosen) return;
      event.stopPropagation();
      view.leave_page();
    });
    this.#wide.addEventListener("change", this.#moved);
  }
  leave() {
    this.#wide.removeEventListener("change", this.#moved);
  }

  // The page is made anew only where something else is chosen.
  draw() {
    const { chosen } = this.#view.state;
    const made = JSON.stringify(chosen);
    if (
      made !== this.#made &&
      !(this.#page && chosen?.name && this.#page.name !== undefined && this.#same_page(chosen))
    ) {
      this.#page = chosen ? page_of(this.#view, chosen) : null;
      fill(this.root, this.#page ? this.#page.root : this.#hint);
    }
    this.#made = made;
    this.#page?.draw();
    this.place();
  }
  // A renamed entry keeps its page.
  #same_page(chosen) {
    const was = JSON.parse(this.#made || "null");
    return (
      was?.kind === chosen.kind &&
      was.name !== null &&
      this.#view.renamed.some(
        (one) => one.kind === chosen.kind && one.from === was.name && one.to === chosen.name,
      )
    );
  }
  place() {
    const { app, faces, state } = this.#view;
    const found = state.chosen && place_of(app, state.chosen);
    if (found || !state.chosen) this.#place = found;
    const face = this.#place && faces.get(this.#place.panel);
    const home =
      this.#wide.matches || !face ? this.side : this.#place.space === null ? face.slot : this.#cell;
    if (home === this.#cell) {
      const row = face.row_of(this.#place.space);
      if (row && row.nextElementSibling !== this.#inline)
        keeping_focus(this.#view.root, () => row.after(this.#inline));
    } else {
      this.#inline.remove();
    }
    if (this.root.parentElement !== home) keeping_focus(this.#view.root, () => home.append(this.root));
  }
  focus(key) {
    this.#page?.focus(key);
  }
  // Into view: of a tall page its beginning, with the row that it belongs to.
  show() {
    const row = this.#inline.previousElementSibling;
    if (row && this.#inline.offsetHeight > kTall * innerHeight) row.scrollIntoView({ block: "start" });
    else this.root.scrollIntoView({ block: "nearest" });
  }
}
