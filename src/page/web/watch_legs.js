// The legs and the neutral of every panel as lanes: volts and amps as bars in the leg's pattern.
import { h, fill, leg_sign, volts, amps, ohms } from "./dom.js";
import { leg_fills, share_of, write } from "./watch_ruler.js";

const kBand = 0.05;

function bar(label) {
  return { root: h(`span.w-lane-bar.${label}`, { "aria-hidden": "true" }), ink: h("span.w-ink") };
}

// One leg, or the neutral: a sign, a bar of volts, a bar of amps.
class Lane {
  #volts_bar = bar("of-volts");
  #amps_bar = bar("of-amps");
  #band = h("span.w-band");
  #volts = h("span.w-fig");
  #amps = h("span.w-fig");

  constructor(sign, fills, attributes) {
    for (const one of [this.#volts_bar, this.#amps_bar]) {
      one.ink.classList.add(...fills);
      one.root.append(one.ink);
    }
    this.#volts_bar.root.prepend(this.#band);
    for (const [key, value] of Object.entries(attributes.volts)) this.#volts.setAttribute(key, value);
    for (const [key, value] of Object.entries(attributes.amps)) this.#amps.setAttribute(key, value);
    this.root = h(
      "div.w-lane",
      { role: "listitem" },
      sign,
      this.#volts_bar.root,
      this.#volts,
      this.#amps_bar.root,
      this.#amps,
    );
  }
  ground(nominal, end) {
    this.#band.style.left = `${share_of(nominal * (1 - kBand), end)}%`;
    this.#band.style.width = `${share_of(2 * kBand * nominal, end)}%`;
  }
  show(leg, volts_end, amps_end) {
    write(this.#volts, volts(leg.volts));
    this.#cut(this.#volts_bar, leg.volts, volts_end);
    this.show_amps(leg.amps, amps_end);
  }
  show_amps(value, end) {
    write(this.#amps, amps(value));
    this.#cut(this.#amps_bar, value, end);
  }
  show_word(text) {
    this.#volts_bar.root.hidden = true;
    this.#volts.classList.add("w-word");
    write(this.#volts, text);
  }
  #cut(one, value, end) {
    const cut = `inset(0 ${(100 - share_of(value ?? 0, end)).toFixed(2)}% 0 0)`;
    if (one.cut !== cut) one.ink.style.clipPath = one.cut = cut;
  }
}

class Panel {
  #lanes;
  #neutral;
  #axis = h("p.w-axis");
  note = h("p.note.w-panel-note");
  #most = 0;
  #scale = "";

  constructor(panel, first, all_legs, breaker) {
    this.first = first;
    this.breaker = breaker ?? 0;
    this.#lanes = panel.legs.map(
      (leg) =>
        new Lane(
          leg_sign(all_legs, leg),
          leg_fills(all_legs, leg),
          first
            ? { volts: { "data-leg-volts": leg }, amps: { "data-leg-amps": leg } }
            : {
                volts: { "data-panel-volts": `${panel.panel} ${leg}` },
                amps: { "data-panel-amps": `${panel.panel} ${leg}` },
              },
        ),
    );
    this.#neutral = new Lane(
      h("span.leg", null, h("span.swatch.w-neutral", { "aria-hidden": "true" }), "N"),
      ["w-fill-neutral"],
      { volts: {}, amps: { "data-panel-neutral": panel.panel } },
    );
    this.root = h(
      "div.w-panel",
      { class: first ? "first" : null },
      h("div.w-panel-head", null, h("h3", null, panel.panel), this.#axis),
      h(
        "div.w-lanes",
        { role: "list", "aria-label": `Legs and neutral of ${panel.panel}` },
        this.#lanes.map((lane) => lane.root),
        this.#neutral.root,
      ),
      first ? null : this.note,
    );
  }

  show(state, service, neutral, { end, nominal }, trial) {
    this.#lay(state, end, nominal);
    state.legs.forEach((leg, i) => this.#lanes[i]?.show(leg, end, this.#most));
    this.#neutral.show_amps(this.first ? service.neutral_amps : state.neutral_amps, this.#most);
    this.#neutral.show_word(neutral?.fault ? ohms(trial.ohms) : "sound");
    this.root.classList.toggle("at-fault", Boolean(neutral?.fault && trial.ohms !== 0));
    write(this.note, this.#said(state, service));
  }
  // The bars' ends: the breaker's amperes, or more where more flows.
  #lay(state, end, nominal) {
    const largest = Math.max(this.breaker, ...state.legs.map((leg) => leg.amps), state.neutral_amps);
    if (largest > this.#most)
      this.#most = this.breaker >= largest ? this.breaker : Math.ceil(largest / 10) * 10;
    const scale = `${end} ${nominal} ${this.#most}`;
    if (scale === this.#scale) return;
    this.#scale = scale;
    for (const lane of this.#lanes) lane.ground(nominal, end);
    write(this.#axis, `computed; bars 0 to ${end} V, 0 to ${this.#most} A`);
  }
  #said(state, service) {
    if (state.isolated) return "Its neutral hangs on nothing: no volts to it can be stated.";
    if (!this.first) return "";
    const earth = amps(service.earth_return_amps);
    return (
      `Its neutral stands ${volts(service.neutral_shift_volts)} off the source's neutral` +
      `${earth === amps(0) ? "" : `; ${earth} return through earth`}.`
    );
  }
}

export class Legs {
  #panels = [];
  #made = "";
  root = h("div.w-legs");

  house(app) {
    const { panels, legs, house } = app.house;
    const breaker = (i) =>
      i === 0 ? (house.service?.breaker_a ?? house.panel[0]?.breaker_a) : house.panel[i]?.breaker_a;
    const made = JSON.stringify([legs, panels.map((p, i) => [p.panel, p.legs, breaker(i)])]);
    if (made === this.#made) return;
    this.#made = made;
    this.#panels = panels.map((panel, i) => new Panel(panel, i === 0, legs, breaker(i)));
    const [first, ...others] = this.#panels;
    fill(
      this.root,
      first.root,
      first.note,
      others.map((panel) => panel.root),
    );
  }
  show(answer, scale, app) {
    answer.panels.forEach((state, i) => {
      const place = i === 0 ? "service" : state.panel;
      const neutral = answer.neutrals.find((one) => one.place === place);
      this.#panels[i]?.show(state, answer.service, neutral, scale, app.trial);
    });
  }
}
