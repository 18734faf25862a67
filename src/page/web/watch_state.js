// Which loads are on: as found, a scenario, a worst state, or the person's own choice.
import { h, fill, counted } from "./dom.js";
import { write } from "./watch_ruler.js";

const kMostNames = 4;

// Loads that are not as found: [{name, on}].
function changed(house, answer) {
  const found = new Map(house.house.load.map((load) => [load.name, load.on]));
  return answer.loads
    .filter((load) => found.get(load.load) !== load.on)
    .map((load) => ({ name: load.load, on: load.on }));
}

function difference_sentence(changes) {
  if (changes.length === 0) return "These are the loads as found.";
  const names = changes.slice(0, kMostNames).map((one) => `${one.name} ${one.on ? "on" : "off"}`);
  if (changes.length > kMostNames) names.push(`${changes.length - kMostNames} more`);
  return `Differs from as found by ${counted(changes.length, "load")}: ${names.join(", ")}.`;
}

export class WhichState {
  #app;
  #worst;
  #own = null; // the person's last own choice, to come back to
  #made = "";
  #changes = [];
  #select = h("select", { id: "state", onchange: () => this.#choose(this.#select.value) });
  #differs = h("p.note", { id: "differs" });
  #back = h(
    "button",
    { type: "button", id: "back-as-found", onclick: () => this.#as_found() },
    "Back to as found",
  );
  #keep = h(
    "button",
    { type: "button", id: "keep-as-found", onclick: () => this.#keep_it() },
    "Keep as found",
  );
  #moves = h("p.note");
  #not_credible = h("ul.w-not-credible");
  root = h(
    "section.w-state",
    { "aria-label": "Which loads are on" },
    h(
      "div.w-bar-of",
      null,
      h("label", { for: "state" }, "Loads that are on"),
      this.#select,
      this.#back,
      this.#keep,
    ),
    this.#differs,
    this.#moves,
    this.#not_credible,
  );

  constructor(app, worst) {
    this.#app = app;
    this.#worst = worst;
  }

  // The values stand for themselves: "found", "worst", "own", and "scenario NAME".
  #value() {
    const { on, scenario } = this.#app.trial;
    if (on === null) return scenario === null ? "found" : `scenario ${scenario}`;
    return this.#worst.shown ? "worst" : "own";
  }
  #choose(value) {
    if (value === "found") this.#as_found();
    else if (value === "worst") this.#worst.take();
    else if (value === "own") this.#app.try_out({ on: this.#own, scenario: null });
    else this.#app.try_out({ on: null, scenario: value.slice("scenario ".length) });
  }
  #as_found() {
    this.#app.try_out({ on: null, scenario: null });
  }
  async #keep_it() {
    const edits = this.#changes.map(({ name, on }) => ({ verb: "set", kind: "load", name, set: { on } }));
    const kept = await this.#app.edit(`Keep ${counted(edits.length, "load")} as found`, edits);
    if (kept) this.#app.try_out({ on: null, scenario: null }, { remember: false });
  }

  trial() {
    const value = this.#value();
    if (value === "own") this.#own = this.#app.trial.on;
    const scenarios = this.#app.house.house.scenario.map((one) => one.name);
    const worst = this.#worst.shown ? `Worst for ${this.#worst.shown.load}` : "Worst of the chosen neutral";
    const made = JSON.stringify([scenarios, worst, this.#worst.can, this.#own !== null]);
    if (made !== this.#made) {
      this.#made = made;
      const option = (is, text, can = true) => h("option", { value: is, disabled: !can }, text);
      fill(
        this.#select,
        option("found", "As found"),
        scenarios.map((name) => option(`scenario ${name}`, `Scenario: ${name}`)),
        option("worst", worst, this.#worst.can || Boolean(this.#worst.shown)),
        option("own", "Your own", this.#own !== null),
      );
    }
    if (this.#select.value !== value) this.#select.value = value;
    const { moves } = this.#app.trial;
    this.#moves.hidden = moves.length === 0;
    if (moves.length > 0) this.#tell_moves(moves);
  }
  #tell_moves(moves) {
    fill(
      this.#moves,
      `Shown with ${counted(moves.length, "circuit")} moved, which is tried and not in the house: `,
      moves.map((one) => `${one.circuit} to space ${one.space}`).join(", "),
      ". ",
      h(
        "button.quiet",
        { type: "button", onclick: () => this.#app.try_out({ moves: [] }) },
        "Show the house as it is",
      ),
    );
  }
  show(answer) {
    this.#changes = changed(this.#app.house, answer);
    write(this.#differs, difference_sentence(this.#changes));
    this.#back.disabled = this.#value() === "found";
    this.#keep.disabled = this.#changes.length === 0;
    const said = answer.not_credible.map((sentence) => `The audit would not count this state: ${sentence}`);
    if (said.join("\n") === this.#not_credible.dataset.said) return;
    this.#not_credible.dataset.said = said.join("\n");
    fill(
      this.#not_credible,
      said.map((sentence) => h("li", null, sentence)),
    );
  }
}
