// A panel's face: two columns of spaces, odd left and even right, with the leg of each row between
// them. One stop of the tab key; arrow keys go from space to space.
import { h, fill, leg_sign, counted } from "./dom.js";
import { Space } from "./enter_space.js";

const kPage = 5; // rows

export class Face {
  #app;
  #calls;
  #cells = [];
  #signs = [];
  #stop = null; // the button that the tab key reaches
  #said = h("span.note");
  #without = h("div.e-without");
  #loose_made = "";

  // calls: {press(button), panel(name), key(event, button), over(button)}
  constructor(app, panel, calls) {
    this.#app = app;
    this.#calls = calls;
    this.panel = panel;
    this.grid = h("div.e-face", {
      role: "grid",
      "aria-label": `Spaces of ${panel}`,
      onclick: (event) => this.#with(event, (button) => calls.press(button)),
      onkeydown: (event) => this.#key(event),
      onfocusin: (event) => this.#with(event, (button) => this.#stand(button)),
    });
    this.slot = h("div.e-slot"); // for the panel's own form
    this.root = h(
      "section.e-panel",
      { "aria-label": `Panel ${panel}` },
      h(
        "header.e-panel-head",
        null,
        h("h3", null, panel),
        this.#said,
        h(
          "button.quiet",
          {
            type: "button",
            "data-action": "panel",
            "data-panel-of": panel,
            "data-key": `panel:${panel}`,
            onclick: () => calls.panel(panel),
          },
          "Panel facts",
        ),
      ),
      this.slot,
      this.grid,
      this.#without,
    );
  }
  #with(event, call) {
    const button = event.target.closest?.("[data-space]");
    if (button && this.grid.contains(button)) call(button);
  }

  house(face) {
    if (this.#cells.length !== face.spaces.length) this.#lay(face.spaces.length);
    face.spaces.forEach((space, i) => this.#cells[i].show(this.#app, space));
    this.#signs.forEach((sign, row) => {
      const leg = face.spaces[2 * row].leg ?? "";
      if (sign.dataset.leg === leg) return;
      sign.dataset.leg = leg;
      fill(sign, leg && leg_sign(this.#app.house.legs, leg));
    });
    const free = face.spaces.filter((space) => space.holds.length === 0).length;
    this.#said.textContent = `${counted(face.spaces.length, "space")}, ${free} free`;
    this.#loose(face.without_space);
    if (!this.#stop?.isConnected) this.#stand(this.#cells[0]?.buttons[0].root);
  }
  #lay(count) {
    this.#cells = Array.from({ length: count }, (_, i) => new Space(this.panel, i + 1));
    this.#signs = [];
    const rows = [];
    for (let i = 0; i < count; i += 2) {
      const sign = h("div.e-sign", { role: "rowheader" });
      this.#signs.push(sign);
      rows.push(h("div.e-row", { role: "row" }, this.#cells[i].root, sign, this.#cells[i + 1]?.root));
    }
    fill(this.grid, rows);
  }
  // Circuits whose space is not known, or that have legs instead.
  #loose(names) {
    const made = JSON.stringify(names);
    if (made === this.#loose_made) return;
    this.#loose_made = made;
    fill(
      this.#without,
      names.length > 0 && [
        h("p.note", null, "Without a space:"),
        names.map((name) =>
          h(
            "button.e-loose",
            {
              type: "button",
              "data-circuit": name,
              "data-pole": 1,
              "data-key": `loose:${name}`,
              onclick: (event) => this.#calls.press(event.currentTarget),
            },
            name,
          ),
        ),
      ],
    );
  }

  get buttons() {
    return this.#cells.flatMap((cell) => cell.buttons.map((one) => one.root));
  }
  button(space, circuit = null) {
    const all = this.#cells[space - 1]?.buttons ?? [];
    return (all.find((one) => one.root.dataset.circuit === circuit) ?? all[0])?.root;
  }
  row_of(space) {
    return this.grid.querySelectorAll(".e-row")[Math.floor((space - 1) / 2)];
  }

  #stand(button) {
    if (!button) return;
    if (this.#stop) this.#stop.tabIndex = -1;
    this.#stop = button;
    button.tabIndex = 0;
  }
  #key(event) {
    this.#with(event, (button) => {
      if (this.#calls.key(event, button)) return event.preventDefault();
      const next = event.ctrlKey || event.metaKey || event.altKey ? null : this.#next(event.key, button);
      if (!next) return;
      event.preventDefault();
      next.focus();
      next.scrollIntoView({ block: "nearest" });
      this.#calls.over(next);
    });
  }
  // Two breakers of one space lie above each other.
  #next(key, button) {
    const space = Number(button.dataset.space);
    const column = this.#cells.filter((cell) => cell.space % 2 === space % 2).flatMap((cell) => cell.buttons);
    const at = column.findIndex((one) => one.root === button);
    const to = (i) => column[Math.max(0, Math.min(column.length - 1, i))].root;
    switch (key) {
      case "ArrowDown":
        return to(at + 1);
      case "ArrowUp":
        return to(at - 1);
      case "PageDown":
        return to(at + kPage);
      case "PageUp":
        return to(at - kPage);
      case "Home":
        return to(0);
      case "End":
        return to(column.length - 1);
      case "ArrowRight":
        return space % 2 === 1 ? this.button(space + 1) : null;
      case "ArrowLeft":
        return space % 2 === 0 ? this.button(space - 1) : null;
      default:
        return null;
    }
  }

  // Marks what is chosen and where a moved circuit would be.
  mark(chosen, target) {
    for (const button of this.buttons) {
      const { space, circuit, feeds } = button.dataset;
      const is =
        chosen &&
        (chosen.name === null
          ? chosen.panel === this.panel && String(chosen.space) === space
          : chosen.kind === "circuit"
            ? chosen.name === circuit
            : chosen.kind === "panel"
              ? chosen.name === feeds
              : chosen.circuits?.includes(circuit));
      button.classList.toggle("chosen", Boolean(is));
      button.parentElement.setAttribute("aria-selected", String(Boolean(is)));
      button.classList.toggle(
        "target",
        target?.panel === this.panel && target.spaces.includes(Number(space)),
      );
    }
  }
}
