// Every neutral that can open: a press opens or mends it, a slider gives it a resistance.
import { h, fill, amps } from "./dom.js";
import { share_of, write } from "./watch_ruler.js";

// The slider: 0 sound, then 0.01 to 100 ohms by equal ratios, and open at its end.
const kLeast = 0.01;
const kMost = 100;
const kEnd = 201;
const kFirst = 5; // neutrals before the fold

export function ohms_at(position) {
  if (position <= 0) return 0;
  if (position >= kEnd) return null;
  const share = (position - 1) / (kEnd - 2);
  return Number((kLeast * (kMost / kLeast) ** share).toPrecision(3));
}
export function position_of(ohms) {
  if (ohms === null) return kEnd;
  if (ohms <= 0) return 0;
  const share = Math.log(ohms / kLeast) / Math.log(kMost / kLeast);
  return Math.max(1, Math.min(kEnd - 1, Math.round(1 + share * (kEnd - 2))));
}
export function ohms_words(ohms) {
  if (ohms === null) return "open";
  return ohms === 0 ? "sound" : `${ohms} ohms added`;
}

class Neutral {
  #amps = h("span.w-fig");
  #bar = h("span.w-ink.w-fill-neutral");
  #rated = h("span.w-rated");
  #word = h("span.w-word");
  #cut = "";

  constructor(place, press) {
    this.place = place.place;
    this.#amps.dataset.neutralAmps = place.place;
    this.button = h(
      "button.w-neutral-of",
      {
        type: "button",
        "aria-pressed": "false",
        "data-place": place.place,
        onclick: () => press(place.place),
      },
      h("span.w-name", null, place.text),
      this.#word,
      this.#amps,
      h("span.w-lane-bar", { "aria-hidden": "true" }, this.#bar),
      this.#rated,
    );
    this.root = h("li", null, this.button);
  }
  show(neutral, trial, most) {
    const ohms = trial.place === this.place ? trial.ohms : 0;
    const past = neutral.rated_amps !== null && neutral.amps > neutral.rated_amps;
    this.button.setAttribute("aria-pressed", ohms !== 0);
    write(this.#word, ohms_words(ohms));
    write(this.#amps, amps(neutral.amps));
    write(
      this.#rated,
      neutral.rated_amps === null
        ? "no rating known"
        : `${past ? "‼ past the" : "of"} ${neutral.rated_amps.toFixed(0)} A that it is rated for`,
    );
    this.#rated.classList.toggle("over", past);
    const cut = `inset(0 ${(100 - share_of(neutral.amps, neutral.rated_amps ?? most)).toFixed(2)}% 0 0)`;
    if (cut !== this.#cut) this.#bar.style.clipPath = this.#cut = cut;
  }
}

export class Neutrals {
  #app;
  #made = "";
  #neutrals = [];
  #dragging = false;
  #last = null; // the neutral that the slider is for while none is at fault
  #unfolded = null;
  #list = h("div");
  #slider = h("input", { type: "range", id: "ohms", min: "0", max: String(kEnd), step: "1", value: "0" });
  #of = h("label", { for: "ohms" });
  #said = h("output", { for: "ohms" });
  root = h(
    "section.w-neutrals",
    { "aria-labelledby": "watch-neutrals" },
    h("h3", { id: "watch-neutrals" }, "Neutrals that can open"),
    h("p.note", null, "Press one to see it open, again to mend it."),
    this.#list,
    h(
      "div.w-ohms",
      null,
      this.#of,
      this.#said,
      this.#slider,
      h(
        "div.w-ends",
        { "aria-hidden": "true" },
        h("span", null, "sound"),
        h("span", null, "0.01 … 100 ohms"),
        h("span", null, "open"),
      ),
    ),
  );

  constructor(app) {
    this.#app = app;
    this.#slider.addEventListener("input", () => this.#slide());
    for (const name of ["change", "pointerdown"]) {
      this.#slider.addEventListener(name, () => (this.#dragging = false));
    }
  }
  // The neutral that is chosen: at fault, pressed last, or the first.
  get chosen() {
    const places = this.#app.house.places;
    const name = this.#app.trial.place ?? this.#last;
    return places.find((one) => one.place === name) ?? places[0];
  }
  focus(place) {
    this.#unfold(place);
    this.#neutrals.find((one) => one.place === place)?.button.focus();
  }

  house(app) {
    const made = JSON.stringify(app.house.places);
    if (made === this.#made) return;
    this.#made = made;
    const focused = document.activeElement?.dataset.place;
    this.#neutrals = app.house.places.map((place) => new Neutral(place, (name) => this.#press(name)));
    const rows = this.#neutrals.map((one) => one.root);
    const more = rows.slice(kFirst);
    fill(
      this.#list,
      h("ul.w-places", null, rows.slice(0, kFirst)),
      more.length > 0 &&
        h("details", null, h("summary", null, `${more.length} more`), h("ul.w-places", null, more)),
    );
    this.#neutrals.find((one) => one.place === focused)?.button.focus();
  }
  #press(name) {
    const { trial } = this.#app;
    this.#last = name;
    const mend = trial.place === name && trial.ohms !== 0;
    this.#app.try_out(mend ? { place: null, ohms: null } : { place: name, ohms: null });
  }
  // One step for undo for the whole of a drag.
  #slide() {
    const ohms = ohms_at(Number(this.#slider.value));
    const { place } = this.chosen;
    this.#app.try_out({ place, ohms }, { remember: !this.#dragging });
    this.#dragging = true;
  }

  // What is tried, at once; the amps follow with the answer.
  trial() {
    const { trial } = this.#app;
    const ohms = trial.place ? trial.ohms : 0;
    const at = position_of(ohms);
    if (ohms_at(Number(this.#slider.value)) !== ohms) this.#slider.value = String(at);
    write(this.#of, `Resistance added in ${this.chosen.text}`);
    write(this.#said, ohms_words(ohms));
    this.#slider.setAttribute("aria-valuetext", ohms_words(ohms));
  }
  show(answer) {
    const most = Math.max(1, ...answer.neutrals.map((one) => one.amps));
    const of_place = new Map(answer.neutrals.map((one) => [one.place, one]));
    for (const one of this.#neutrals) {
      const neutral = of_place.get(one.place);
      if (neutral) one.show(neutral, this.#app.trial, most);
    }
    this.#unfold(this.#app.trial.place);
  }
  // A neutral that comes to be at fault is not hidden in a fold.
  #unfold(place) {
    if (place === this.#unfolded) return;
    this.#unfolded = place;
    const fold = this.#neutrals.find((one) => one.place === place)?.root.closest("details");
    if (fold) fold.open = true;
  }
}
