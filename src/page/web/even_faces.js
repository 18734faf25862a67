// The panels' faces as tried: odd spaces left, even right, the leg of each row between them. A moved
// circuit's new space and its old one are both marked, by words and by their borders.
import { h, fill, leg_sign, counted } from "./dom.js";
import { seats_in } from "./even_trying.js";

class Face {
  #app;
  #carry;
  #rows = [];
  #stop = null;
  #count = 0;
  #said = h("span.note");
  #grid;

  constructor(app, carry, panel) {
    this.#app = app;
    this.#carry = carry;
    this.panel = panel;
    this.#grid = h("div.ev-face", {
      role: "grid",
      "aria-label": `Spaces of ${panel}`,
      onkeydown: (event) => this.#key(event),
      onfocusin: (event) => this.#focused(event),
    });
    this.root = h(
      "section.ev-panel",
      { "data-face": panel, "aria-label": `Panel ${panel}` },
      h("header", null, h("h3", null, panel), this.#said),
      this.#grid,
    );
  }

  // here: the panel as tried; moved(circuit): {panel, space} it had, or null; left(panel, space): who sat
  // there and left.
  show(here, moved, left, locked) {
    if (this.#count !== here.spaces.length) this.#lay(here.spaces.length);
    const focused = document.activeElement?.closest?.(".ev-cell")?.dataset.cell;
    const had = this.#grid.contains(document.activeElement);
    here.spaces.forEach((space, i) => {
      const row = this.#rows[Math.floor(i / 2)];
      if (i % 2 === 0) fill(row.sign, space.leg && leg_sign(this.#app.house.legs, space.leg));
      this.#fill_cell(i % 2 === 0 ? row.odd : row.even, space, moved, left, locked);
    });
    const free = here.spaces.filter((space) => space.holds.length === 0).length;
    this.#said.textContent = `${counted(here.spaces.length, "space")}, ${free} free`;
    if (!this.#stop?.isConnected)
      this.#stand(this.#grid.querySelector(`[data-space="${this.#stop?.dataset.space ?? 1}"]`));
    if (had && focused)
      this.#grid.querySelector(`[data-cell="${focused}"] [data-space]`)?.focus({ preventScroll: true });
  }
  #lay(count) {
    this.#count = count;
    const cell = (space) => h("div.ev-cell", { role: "gridcell", "data-cell": space });
    this.#rows = Array.from({ length: Math.ceil(count / 2) }, (_, i) => ({
      odd: cell(2 * i + 1),
      even: 2 * i + 2 <= count ? cell(2 * i + 2) : null,
      sign: h("div.ev-sign", { role: "rowheader" }),
    }));
    fill(
      this.#grid,
      this.#rows.map((row) => h("div.ev-row", { role: "row" }, row.odd, row.sign, row.even)),
    );
  }
  #fill_cell(cell, { space, leg, holds }, moved, left, locked) {
    const gone = left(this.panel, space);
    const made = JSON.stringify([
      leg,
      holds,
      gone,
      holds.map((seat) => [moved(seat.circuit), locked(seat.circuit)]),
    ]);
    if (cell.made === made) return;
    cell.made = made;
    cell.classList.toggle("left", gone.length > 0);
    const was = gone.length > 0 && `was ${gone.join(", ")}`;
    const seats = holds.length > 0 ? holds : [{}];
    fill(
      cell,
      seats.map((seat, i) =>
        this.#seat(space, seat, moved(seat.circuit), i === 0 && was, locked(seat.circuit)),
      ),
    );
  }
  #seat(space, { circuit, feeds, pole, leg }, from, was, is_locked) {
    const { poles = 1 } = this.#app.house.house.circuit.find((one) => one.name === circuit) ?? {};
    const name = circuit
      ? `${circuit}${poles > 1 ? ` ${pole}/${poles}` : ""}`
      : feeds
        ? `feeds ${feeds}`
        : "free";
    const data = {
      "data-space": space,
      "data-panel": this.panel,
      "data-circuit": circuit,
      "data-pole": circuit && pole,
      "data-feeds": feeds,
    };
    const marks = [
      from && `from ${from.panel === this.panel ? "" : `${from.panel} `}${from.space + 2 * (pole - 1)}`,
      was,
      is_locked && "locked",
    ];
    const state = [circuit ? "held" : "", from ? "moved" : ""].join(" ");
    return h(
      "button.ev-seat",
      { type: "button", tabindex: "-1", class: state, ...data },
      h("span.ev-no", null, space),
      h(
        "span.ev-name",
        null,
        name,
        leg && h("span.ev-hidden", null, `, ${leg}`),
        marks.map((mark) => mark && [" ", h("span.ev-mark", null, mark)]),
      ),
    );
  }

  // The chosen circuit and the spaces in which it would sit.
  mark(carried) {
    const target = carried?.target?.panel === this.panel ? carried.target : null;
    for (const button of this.#grid.querySelectorAll(".ev-seat")) {
      button.classList.toggle("chosen", Boolean(carried) && button.dataset.circuit === carried.circuit);
      button.classList.toggle("target", Boolean(target?.spaces.includes(Number(button.dataset.space))));
    }
  }

  #stand(button) {
    if (this.#stop) this.#stop.tabIndex = -1;
    this.#stop = button;
    if (button) button.tabIndex = 0;
  }
  #focused(event) {
    const button = event.target.closest("[data-space]");
    if (!button) return;
    this.#stand(button);
    this.#carry.over_by_keys(button);
  }
  #key(event) {
    const button = event.target.closest("[data-space]");
    if (!button || event.ctrlKey || event.metaKey || event.altKey) return;
    const next = this.#next(event.key, Number(button.dataset.space));
    if (!next) return;
    event.preventDefault();
    next.focus();
    next.scrollIntoView({ block: "nearest" });
  }
  #next(key, space) {
    const at = (one) =>
      one < 1 || one > this.#count ? null : this.#grid.querySelector(`[data-space="${one}"]`);
    switch (key) {
      case "ArrowDown":
        return at(space + 2);
      case "ArrowUp":
        return at(space - 2);
      case "ArrowRight":
        return space % 2 === 1 ? at(space + 1) : null;
      case "ArrowLeft":
        return space % 2 === 0 ? at(space - 1) : null;
      case "Home":
        return at(space % 2 === 1 ? 1 : 2);
      case "End":
        return at(this.#count - ((this.#count - space) % 2));
      default:
        return null;
    }
  }
}

export class Faces {
  #app;
  #carry;
  #faces = [];
  #list = h("div.ev-faces", { "data-drag-root": "" });
  #hint = h(
    "p.note",
    { id: "ev-hint" },
    "Drag a circuit to another space, or tap or press Enter on it and then on the space; " +
      "arrow keys go from space to space, Escape leaves it. Each drop is tried at once and can be taken " +
      "back with Undo.",
  );
  root = h(
    "section",
    { "aria-label": "Faces of the panels" },
    h("h3", null, "The panel as tried"),
    this.#hint,
    this.#list,
  );

  constructor(app, carry) {
    this.#app = app;
    this.#carry = carry;
  }
  show(panels) {
    if (this.#faces.map((face) => face.panel).join("\n") !== panels.map((p) => p.panel).join("\n")) {
      this.#faces = panels.map((p) => new Face(this.#app, this.#carry, p.panel));
      fill(
        this.#list,
        this.#faces.map((face) => face.root),
      );
    }
    const before = seats_in(this.#app.house.panels);
    const now = seats_in(panels);
    const moved = (circuit) => {
      const was = before.get(circuit);
      const is = now.get(circuit);
      return was && is && (was.panel !== is.panel || was.space !== is.space) ? was : null;
    };
    const locked = (circuit) =>
      this.#app.house.house.circuit.some((one) => one.name === circuit && one.locked);
    const left = (panel, space) => this.#held_before(panel, space).filter((circuit) => moved(circuit));
    panels.forEach((here, i) => this.#faces[i].show(here, moved, left, locked));
  }
  #held_before(panel, space) {
    const found = this.#app.house.panels
      .find((one) => one.panel === panel)
      ?.spaces.find((one) => one.space === space);
    return (found?.holds ?? []).map((seat) => seat.circuit).filter(Boolean);
  }
  mark(carried) {
    for (const face of this.#faces) face.mark(carried);
  }
}
