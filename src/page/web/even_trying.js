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
  #known = null; // {moves, answer}: what the last drop was answered

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
    const known = this.#known;
    const answered = known && same(known.moves, this.moves);
    if (!answered || known.answer.revision !== this.#app.house.revision) return this.#want(this.moves, false);
    this.#supposed = false;
    this.#feed.forget();
    this.#told.answered(known.answer, false);
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
      const answer = await post("api/try", { moves, fewest: true });
      // The same said as one move for each circuit, so that what was dragged to and fro leaves no trace.
      const fewest = answer.moves ?? moves;
      if (same(fewest, this.moves)) {
        this.ask();
        return "same";
      }
      this.#known = { moves: fewest, answer };
      this.#app.try_out({ moves: fewest });
      return "tried";
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      this.#told.dropped(reason);
      this.ask();
      return "refused";
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
