// What is tried, in one strip that stays in sight: how far apart the legs are, as it is and as tried, and
// the two ways to end the trial.
import { h, fill, leg_sign, amps, counted } from "./dom.js";

export const sentence_of = (reason) =>
  reason.faults.map((fault) => `${fault.where}: ${fault.what}; ${fault.remedy}.`).join(" ");

function head_of(reason, supposed, tries) {
  if (reason.status === 0 || !(supposed || tries)) return "No answer. ";
  return supposed ? "Not there: " : "What was tried cannot be built in the house as it is now. ";
}

export const furthest = (rows) =>
  rows.reduce((most, row) => (row.spread_amps > most.spread_amps ? row : most));

export class Strip {
  #app;
  #trying;
  #why = null; // the latest move that was refused
  #spread = h("p.ev-apart");
  #legs = h("p.ev-strip-legs");
  #moved = h("p.ev-moved-list");
  #refused = h("p.ev-refused", { role: "alert" });
  #notes = h("ul.ev-notes");
  #write = h(
    "button.act",
    { type: "button", "data-action": "write", onclick: () => this.#to_house() },
    "Write into the house",
  );
  #forget = h(
    "button",
    { type: "button", "data-action": "forget", onclick: () => this.#clear() },
    "Forget this trial",
  );

  constructor(app, trying) {
    this.#app = app;
    this.#trying = trying;
    this.root = h(
      "section.ev-strip.plate",
      { "aria-label": "What is tried" },
      h("div.ev-strip-said", null, this.#spread, this.#legs),
      h("div.ev-strip-acts", null, this.#write, this.#forget),
      this.#refused,
    );
    this.more = h("div.ev-strip-more", null, this.#moved, this.#notes);
  }

  show(answer, supposed) {
    const { moves } = this.#trying;
    const tries = supposed || moves.length > 0;
    const was = furthest(answer.before);
    const is = furthest(answer.scenarios);
    const figure = (a) => h("b", { "data-spread": String(a) }, amps(a));
    fill(
      this.#spread,
      figure(is.spread_amps),
      tries
        ? [` apart at most ${supposed ? "if dropped here" : "as tried"}; as it is `, amps(was.spread_amps)]
        : " apart at most, as it is",
    );
    fill(
      this.#legs,
      `${is.scenario}, computed: `,
      this.#app.house.legs.map((leg, i) =>
        h("span.ev-strip-leg", null, leg_sign(this.#app.house.legs, leg), " ", amps(is.legs[i])),
      ),
    );
    if (supposed) this.#why = null;
    this.#tell_refusal();
    if (supposed) return; // nothing that stands above the faces changes its size under a drag
    fill(this.#notes, tries && answer.notes.map((note) => h("li", null, note)));
    this.#tell_moves(moves);
  }
  #tell_moves(moves) {
    const names = moves.map((move) => move.circuit);
    this.#moved.textContent =
      moves.length === 0
        ? "Nothing is tried: try a plan on, or move a circuit on the panel's face."
        : `${counted(moves.length, "circuit")} elsewhere than in the house: ${names.join(", ")}.`;
    this.#write.disabled = this.#forget.disabled = moves.length === 0;
  }

  // A move was refused: why stays there until something else is tried.
  dropped(reason) {
    this.#why = reason;
    this.#tell_refusal();
  }
  calm() {
    this.#why = null;
    this.#tell_refusal();
  }
  // Of a target that is pointed at, or of a trial that the house as it is now has no room for.
  refuse(reason, supposed) {
    const tries = this.#trying.moves.length > 0;
    this.#why = null;
    fill(this.#refused, h("b", null, head_of(reason, supposed, tries)), sentence_of(reason));
    this.#forget.disabled = !tries;
  }
  #tell_refusal() {
    fill(
      this.#refused,
      this.#why && [h("b", null, "Not tried, and nothing changed. "), sentence_of(this.#why)],
    );
  }

  async #to_house() {
    const { moves } = this.#trying;
    const [{ circuit, space }] = moves;
    const label =
      moves.length === 1
        ? `Move circuit "${circuit}" to space ${space}`
        : `Move ${moves.length} circuits for even legs`;
    this.#write.disabled = true;
    await this.#trying.write(label);
    this.#tell_moves(this.#trying.moves);
    if (document.activeElement === document.body) document.getElementById("view").focus();
  }
  #clear() {
    this.#trying.clear();
    this.#app.say("The trial is forgotten; the house is as it was.");
  }
}
