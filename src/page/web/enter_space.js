// One space of a panel's face, as a button for each breaker in it; two are a tandem breaker.
import { h, fill } from "./dom.js";
import { entry, multiwire_of } from "./enter_find.js";

const details = (circuit) =>
  [
    circuit.breaker_a && `${circuit.breaker_a} A`,
    circuit.conductor,
    circuit.protection !== "standard" && circuit.protection,
  ].filter(Boolean);

// What a button shows and says: {name, detail, spoken, kind}.
function free(space) {
  return { name: "", detail: "", spoken: `Space ${space}, free`, kind: "free" };
}
function feeder(seat, space) {
  const name = `feeds ${seat.feeds}`;
  return {
    name,
    detail: `pole ${seat.pole}`,
    spoken: `Space ${space}, breaker of panel ${seat.feeds}, pole ${seat.pole}`,
    kind: "feeds",
  };
}
function seated(app, seat, space) {
  const circuit = entry(app, "circuit", seat.circuit);
  const multiwire = multiwire_of(app, seat.circuit);
  const pole = circuit.poles > 1 ? `pole ${seat.pole} of ${circuit.poles}` : "";
  const parts = [pole, ...(seat.pole === 1 ? details(circuit) : [])].filter(Boolean);
  const shared = multiwire ? `shares the neutral of ${multiwire}` : "";
  const locked = circuit.locked && "locked";
  return {
    name: seat.circuit,
    detail: [...(seat.pole > 1 ? [pole] : details(circuit)), locked].filter(Boolean).join(" · "),
    shared: multiwire ?? "",
    spoken: [`Space ${space}`, seat.circuit, ...parts, shared, locked].filter(Boolean).join(", "),
    kind: seat.pole > 1 ? "taken onward" : circuit.poles > 1 ? "taken first" : "taken",
  };
}

const write = (element, text) => {
  if (element.textContent !== text) element.textContent = text;
};

class SpaceButton {
  #name = h("span.e-name");
  #detail = h("span.e-detail");
  #shared = h("span.e-shared");
  constructor(panel, space) {
    this.space = space;
    this.root = h(
      "button.e-space",
      {
        type: "button",
        "data-space": space,
        "data-panel": panel,
        tabindex: "-1",
        "data-key": `space:${panel}:${space}`,
      },
      h("span.e-number", null, space),
      h("span.e-of", null, this.#name, this.#detail, this.#shared),
    );
  }
  show(app, leg, seat) {
    const is = !seat
      ? free(this.space)
      : seat.feeds
        ? feeder(seat, this.space)
        : seated(app, seat, this.space);
    write(this.#name, is.name || "free");
    write(this.#detail, is.detail);
    write(this.#shared, is.shared ? `neutral of ${is.shared}` : "");
    const spoken = leg ? is.spoken.replace(/^Space \d+/, `$&, leg ${leg}`) : is.spoken;
    this.root.setAttribute("aria-label", spoken);
    this.root.title = spoken;
    this.root.className = `e-space ${is.kind}`;
    this.seat = seat;
    for (const key of ["circuit", "feeds", "pole"]) {
      if (seat?.[key]) this.root.dataset[key] = seat[key];
      else delete this.root.dataset[key];
    }
  }
}

export class Space {
  buttons = [];
  #panel;
  constructor(panel, space) {
    this.#panel = panel;
    this.space = space;
    this.root = h("div.e-cell", { role: "gridcell" });
  }
  // held: as api/house tells it.
  show(app, { leg, holds }) {
    const seats = holds.length > 0 ? holds : [null];
    if (seats.length !== this.buttons.length) {
      this.buttons = seats.map(() => new SpaceButton(this.#panel, this.space));
      fill(
        this.root,
        this.buttons.map((one) => one.root),
      );
    }
    seats.forEach((seat, i) => this.buttons[i].show(app, leg, seat));
  }
}
