// What each leg carries, scenario by scenario: a bar in the leg's pattern, and below it a thin one as it is
// in the house while something else is tried.
import { h, fill, leg_sign, amps } from "./dom.js";

class Leg {
  #was = h("span.ev-ink");
  #is = h("span.ev-ink");
  #was_bar = h("span.ev-bar.was", null, this.#was);
  #figure;
  #was_figure = h("span.ev-was-fig");

  constructor(legs, name, scenario) {
    const fill_class = `fill-leg-${(legs.indexOf(name) % 3) + 1}`;
    this.#was.classList.add(fill_class);
    this.#is.classList.add(fill_class);
    this.#figure = h("span.ev-fig", { "data-leg-amps": name, "data-scenario": scenario });
    this.root = h(
      "div.ev-leg",
      { role: "listitem" },
      leg_sign(legs, name),
      h("span.ev-bars", { "aria-hidden": "true" }, h("span.ev-bar", null, this.#is), this.#was_bar),
      h("span.ev-figs", null, this.#figure, this.#was_figure),
    );
  }
  show(was, is, end, tries) {
    this.#figure.textContent = amps(is);
    this.#was_figure.textContent = tries ? `was ${amps(was)}` : "\u00A0";
    this.#was_bar.classList.toggle("none", !tries); // its room stays: nothing moves under a drag
    cut(this.#was, was, end);
    cut(this.#is, is, end);
  }
}

// The whole pattern stands there, cut off at the value: its grain stays the same at any length.
function cut(ink, value, end) {
  ink.style.clipPath = `inset(0 ${(100 - (100 * value) / end).toFixed(2)}% 0 0)`;
}

class Scenario {
  #apart = h("span.ev-apart-of");

  constructor(name, legs) {
    this.legs = legs.map((leg) => new Leg(legs, leg, name));
    this.root = h(
      "section.ev-scenario",
      { "data-scenario-of": name },
      h("h4", null, name, " ", this.#apart),
      h(
        "div",
        { role: "list", "aria-label": `Legs, ${name}` },
        this.legs.map((leg) => leg.root),
      ),
    );
  }
  show(was, is, end, tries) {
    this.#apart.textContent = tries
      ? `${amps(is.spread_amps)} apart, was ${amps(was.spread_amps)}`
      : `${amps(is.spread_amps)} apart`;
    this.legs.forEach((leg, i) => leg.show(was.legs[i], is.legs[i], end, tries));
  }
}

export class Bars {
  #made = "";
  #scenarios = [];
  #axis = h("p.note");
  #list = h("div.ev-scenarios");
  root = h(
    "section.ev-carried",
    { "aria-label": "What each leg carries" },
    h("h3", null, "What each leg carries"),
    this.#axis,
    this.#list,
  );

  show(answer, legs, tries) {
    const made = JSON.stringify([legs, answer.scenarios.map((row) => row.scenario)]);
    if (made !== this.#made) {
      this.#made = made;
      this.#scenarios = answer.scenarios.map((row) => new Scenario(row.scenario, legs));
      fill(
        this.#list,
        this.#scenarios.map((one) => one.root),
      );
    }
    const largest = Math.max(1, ...[...answer.before, ...answer.scenarios].flatMap((row) => row.legs));
    const end = Math.ceil(largest / 10) * 10;
    this.#axis.textContent =
      `Amperes at the service, computed from nameplates; bars from 0 to ${end} A. ` +
      "Thick bar: as tried; thin bar below it: as it is.";
    this.#scenarios.forEach((one, i) => one.show(answer.before[i], answer.scenarios[i], end, tries));
  }
}
