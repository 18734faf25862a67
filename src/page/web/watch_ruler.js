// The common ruler of volts: from 0 to past the highest leg-to-leg volts, the same length of volts
// for every leg and load, with the band about nominal and what a load is taken to withstand.
import { h } from "./dom.js";

export const kBand = 0.05; // of nominal, either way: within it a change counts as steady
const kStep = 20;

// Where the ruler ends: past what stands between two legs, and past every limit.
export function ruler_end(app, answer) {
  const system = app.words.systems.find((one) => one.system === app.house.house.supply.system);
  let most = system?.leg_to_leg_volts ?? system?.nominal_volts ?? 0;
  for (const load of answer.loads) most = Math.max(most, load.withstands, load.volts ?? 0);
  return Math.ceil(most / kStep) * kStep;
}

export const share_of = (value, end) => Math.max(0, Math.min(1, value / end)) * 100;

// A class for each of these legs, as style.css has them; "L1-L2" gives two.
export function leg_fills(legs, text) {
  return text
    .split("-")
    .filter((name) => legs.includes(name))
    .map((name) => `fill-leg-${(legs.indexOf(name) % 3) + 1}`);
}

// Told by words beside it, so that it is hidden from those who listen. Every write is kept from
// the layout: bars are cut by a clip, marks moved by a transform.
export class Ruler {
  #band = h("span.w-band");
  #beyond = h("span.w-beyond");
  #bar = h("span.w-bar");
  #mark = h("span.w-at", null, h("span.w-mark"));
  #ground = "";
  #fills = "";
  #cut = null;
  root = h("span.w-ruler", { "aria-hidden": "true" }, this.#band, this.#beyond, this.#bar, this.#mark);

  // limit: null where there is none. fills: classes of the bar.
  show({ end, nominal, limit, volts, fills }) {
    const ground = `${end} ${nominal} ${limit}`;
    if (ground !== this.#ground) this.#lay(ground, end, nominal, limit);
    if (fills.join() !== this.#fills) {
      this.#fills = fills.join();
      this.#bar.replaceChildren(...fills.map((one) => h("span", { class: one })));
    }
    const cut = volts === null ? null : share_of(volts, end).toFixed(2);
    if (cut === this.#cut) return;
    this.#cut = cut;
    this.#bar.style.clipPath = `inset(0 ${100 - Number(cut ?? 0)}% 0 0)`;
    this.#mark.style.transform = `translateX(${cut ?? 0}%)`;
    this.root.classList.toggle("unknown", cut === null);
  }
  #lay(ground, end, nominal, limit) {
    this.#ground = ground;
    this.#band.style.left = `${share_of(nominal * (1 - kBand), end)}%`;
    this.#band.style.width = `${share_of(2 * kBand * nominal, end)}%`;
    this.#beyond.hidden = limit === null;
    this.#beyond.style.left = `${share_of(limit ?? end, end)}%`;
  }
}

// What the ruler's parts are, said once above a list.
export function ruler_key(end) {
  return h(
    "p.note.w-key",
    null,
    `Ruler: 0 to ${end} V. `,
    h("span.w-key-band", { "aria-hidden": "true" }),
    " nominal, 5 % either way. ",
    h("span.w-key-beyond", { "aria-hidden": "true" }),
    " past what the load is taken to withstand. ",
    h("span.w-key-on", { "aria-hidden": "true" }),
    " on, ",
    h("span.w-key-off", { "aria-hidden": "true" }),
    " off: volts at its terminals.",
  );
}

// Text is written only where it differs.
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}
