// The plan that is tried: the moves on this page, and the program's answer to them. Nothing of it is in
// the house file until it is written there.
import { post, Refused } from "./api.js";
import { Feed } from "./feed.js";

export const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

// Where each circuit's first pole sits: by circuit, {panel, space}.
export function seats_in(panels) {
  const seats = new Map();
  for (const { panel, spaces } of panels) {
    for (const { space, holds } of spaces) {
      for (const { circuit, pole } of holds) if (circuit && pole === 1) seats.set(circuit, { panel, space });
    }
  }
  return seats;
}

export class Trying {
  #app;
  #feed;
  #told;
  #supposed = false;

  // told: {answered(answer, supposed), refused(reason, supposed), dropped(reason)}; supposed: of a target
  // that is pointed at; dropped: a move was refused, and what was tried before still is.
  constructor(app, told) {
    this.#app = app;
    this.#told = told;
    this.#feed = new Feed("api/try", {
      answered: (answer, body) => {
        if (answer.revision !== app.house.revision) return; // the house is on its way, and asks again
        told.answered(answer, !same(body.moves, this.moves));
      },
      refused: (reason) => told.refused(reason, this.#supposed),
    });
  }
  get moves() {
    return this.#app.trial.moves;
  }

  ask() {
    this.#drop_what_is_gone();
    this.#want(this.moves, false);
  }
  // What one more drop would do, while its target is pointed at. null: nothing is pointed at.
  suppose(drop) {
    this.#want(drop ? [...this.moves, drop] : this.moves, drop !== null);
  }
  #want(moves, supposed) {
    this.#supposed = supposed;
    this.#feed.want({ moves });
  }
  forget() {
    this.#feed.forget();
  }

  // A circuit that the house no longer has is no longer moved.
  #drop_what_is_gone() {
    const there = new Set(this.#app.house.house.circuit.map((circuit) => circuit.name));
    const left = this.moves.filter((move) => there.has(move.circuit));
    if (left.length < this.moves.length) this.#app.try_out({ moves: left }, { remember: false });
  }

  // Whether these moves are what is tried.
  is(moves) {
    const before = seats_in(this.#app.house.panels);
    const as_said = (all) =>
      all.map((m) => [m.circuit, m.panel ?? before.get(m.circuit)?.panel, m.space].join("\n"));
    return same(as_said(moves).sort(), as_said(this.moves).sort());
  }

  // One more move, or a whole plan's: "tried", "same" where nothing would differ, or "refused".
  add(drop) {
    return this.take([...this.moves, drop]);
  }
  async take(moves) {
    try {
      const answer = await post("api/try", { moves });
      const tidy = await this.#tidied(moves, answer.panels);
      if (same(tidy, this.moves)) {
        this.ask();
        return "same";
      }
      this.#app.try_out({ moves: tidy });
      return "tried";
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      this.#told.dropped(reason);
      this.ask();
      return "refused";
    }
  }
  // The same faces said as one move for each circuit that sits elsewhere than in the house, so that
  // what was dragged to and fro leaves no trace. As it was where that does not build the same.
  async #tidied(moves, panels) {
    const before = seats_in(this.#app.house.panels);
    const tidy = [];
    for (const [circuit, seat] of seats_in(panels)) {
      const was = before.get(circuit);
      if (was && was.panel === seat.panel && was.space === seat.space) continue;
      const legs = moves.findLast((m) => m.circuit === circuit && m.space === seat.space)?.legs;
      // Its panel only where that is another one: a circuit of the first panel need not name it.
      const panel = was?.panel === seat.panel ? null : seat.panel;
      tidy.push({
        circuit,
        space: seat.space,
        at_once: true,
        ...(panel && { panel }),
        ...(legs && { legs }),
      });
    }
    if (tidy.length === 0) return [];
    try {
      const answer = await post("api/try", { moves: tidy });
      return same(answer.panels, panels) ? tidy : moves;
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      return moves;
    }
  }

  // Into the house, as one step; then nothing is tried any more.
  async write(label) {
    if (await this.#app.move(label, this.moves)) this.#app.try_out({ moves: [] }, { remember: false });
  }
  clear() {
    this.#app.try_out({ moves: [] });
  }
}
