// The worst credible state of the chosen neutral, as the audit found it, at one press.
import { h, fill, volts } from "./dom.js";
import { Progress, open_neutral, current_audit } from "./watch_audit.js";
import { write } from "./watch_ruler.js";

const kFurthest = "";
const kClose = 0.01; // volts: the precision of a proof

// Loads that this neutral can reach, the one that goes furthest over what it withstands first.
function by_over(entry, answer) {
  const withstands = new Map(answer.loads.map((load) => [load.load, load.withstands]));
  return entry.loads
    .filter((load) => load.highest_volts !== null && withstands.has(load.load))
    .map((load) => ({
      ...load,
      withstands: withstands.get(load.load),
      over: load.highest_volts / withstands.get(load.load),
    }))
    .sort((a, b) => b.over - a.over);
}

const same_loads = (names, set) => names.length === set.size && names.every((name) => set.has(name));

export function proof_sentence(row) {
  if (row.proven) return "Proven: no credible state takes it more than 0.01 V higher.";
  const bound = row.highest_bound;
  if (bound !== null && bound !== undefined) {
    return bound - row.highest_volts > kClose
      ? `Not proven: no credible state takes it past ${volts(bound)}.`
      : "Searched, not proven yet: a state may go further.";
  }
  return "Searched, not proven: a state may go further.";
}

export class Worst {
  #app;
  #neutrals;
  #answer = null;
  #rows = [];
  #made = "";
  #wanted = kFurthest;
  shown = null; // the row whose worst state is on the page
  #progress = new Progress();
  #select = h("select", { id: "worst-load", onchange: () => (this.#wanted = this.#select.value) });
  #button = h("button.act", { type: "button", id: "worst", onclick: () => this.take() });
  #said = h("p", { id: "worst-said" });
  root = h(
    "section.w-worst",
    { "aria-labelledby": "watch-worst" },
    h("h3", { id: "watch-worst" }, "Worst state"),
    this.#progress.root,
    h("label", { for: "worst-load" }, "Of which load"),
    this.#select,
    this.#button,
    this.#said,
  );

  constructor(app, neutrals) {
    this.#app = app;
    this.#neutrals = neutrals;
  }
  get can() {
    return this.#rows.length > 0;
  }
  take() {
    const row = this.#rows.find((one) => one.load === this.#wanted) ?? this.#rows[0];
    if (row) show_worst(this.#app, this.#neutrals.chosen.place, row.highest_on);
  }

  trial() {
    const { place, text } = this.#neutrals.chosen ?? {};
    const entry = place ? open_neutral(this.#app, place) : null;
    this.#rows = entry && this.#answer ? by_over(entry, this.#answer) : [];
    const made = JSON.stringify([place, this.#rows.map((row) => [row.load, row.highest_volts])]);
    if (made !== this.#made) {
      this.#made = made;
      fill(
        this.#select,
        h("option", { value: kFurthest }, "the one furthest over its limit"),
        this.#rows.map((row) =>
          h(
            "option",
            { value: row.load },
            `${row.load}: ${volts(row.highest_volts)} (withstands ${volts(row.withstands)})`,
          ),
        ),
      );
      this.#select.value = this.#rows.some((row) => row.load === this.#wanted) ? this.#wanted : kFurthest;
      this.#wanted = this.#select.value;
    }
    this.#button.disabled = !this.can;
    this.#select.disabled = !this.can;
    write(this.#button, `Show it, with ${text ?? "a neutral"} open`);
    this.#tell(text);
  }
  #tell(text) {
    const { trial } = this.#app;
    const on =
      trial.place && trial.ohms === null && trial.on && trial.moves.length === 0 ? new Set(trial.on) : null;
    const matching = on ? this.#rows.filter((row) => same_loads(row.highest_on, on)) : [];
    this.shown = matching.find((row) => row.load === this.#wanted) ?? matching[0] ?? null;
    const none =
      current_audit(this.#app) && this.#answer && !this.can
        ? `The audit finds no load that ${text} could put volts on in a credible state.`
        : "";
    write(this.#said, this.shown ? shown_sentences(this.shown, text) : none);
  }
  audit() {
    this.#progress.show(this.#app);
    this.trial();
  }
  show(answer) {
    const first = this.#answer === null;
    this.#answer = answer;
    if (first) this.trial();
  }
}

function shown_sentences(row, text) {
  const limit = volts(row.withstands);
  const against =
    row.over > 1
      ? `${row.over.toFixed(2)} times the ${limit} that it is taken to withstand`
      : `where it is taken to withstand ${limit}`;
  return (
    `Shown: the highest that ${row.load} could see with ${text} open, ${volts(row.highest_volts)}, ` +
    `${against}. ${proof_sentence(row)} Every load is a constant impedance here.`
  );
}

// The state of an audit's row: its loads on, that neutral open, the house as it is.
export function show_worst(app, place, on) {
  app.try_out({ on: [...on], scenario: null, place, ohms: null, moves: [] });
}
