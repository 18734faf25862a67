// Who reads the record, the day that it bears, and what it is about.
import { h, fill, amps, counted } from "./dom.js";
import { get, Refused } from "./api.js";

const kStore = "record";
const kOwnChoice = "the program's own choice";
const kReaders = {
  electrician: "readings against what is expected, what they support, findings, hand-over",
  inspector: "observation, implication and recommendation for each finding; limits of the inspection",
  contractor: "moves, leg loads before and after, both faces of each panel, service calculation",
  client: "one page in plain words: what to do first, what comes next, whom to call",
  event: "after a neutral opened: what was exposed, what to have tested, a list for a claim",
};

export class Choices {
  #app;
  #told;
  #kept = JSON.parse(sessionStorage.getItem(kStore) ?? "{}");
  #asked = 0;
  #date = h("input", { type: "date", id: "rc-date", "data-record": "date", onchange: () => this.#changed() });
  #place = h("select", { id: "rc-place", "data-record": "place", onchange: () => this.#changed() });
  #plan = h("select", { id: "rc-plan", "data-record": "plan", onchange: () => this.#changed() });
  #place_row = h("div.rc-row", null, h("label", { for: "rc-place" }, "Which neutral opened"), this.#place);
  #plan_row = h("div.rc-row", null, h("label", { for: "rc-plan" }, "Plan for even legs"), this.#plan);
  #readers;

  constructor(app, told) {
    this.#app = app;
    this.#told = told;
    const kept = app.words.readers.includes(this.#kept.for) ? this.#kept.for : app.words.readers[0];
    this.#readers = app.words.readers.map((reader) =>
      h("input", {
        type: "radio",
        name: "rc-reader",
        value: reader,
        id: `rc-${reader}`,
        "data-reader": reader,
        checked: reader === kept,
        onchange: () => this.#changed(),
      }),
    );
    this.#date.value = this.#kept.date ?? "";
    this.root = h(
      "form.rc-choices",
      { "aria-label": "Which record", onsubmit: (event) => event.preventDefault() },
      h(
        "fieldset",
        null,
        h("legend", null, "For"),
        this.#readers.map((radio) =>
          h(
            "label.rc-reader",
            { for: radio.id },
            radio,
            h(
              "span",
              null,
              h("b", null, radio.value),
              kReaders[radio.value] && h("span.note", null, ` ${kReaders[radio.value]}`),
            ),
          ),
        ),
      ),
      h(
        "div.rc-row",
        null,
        h("label", { for: "rc-date" }, "Day on the record"),
        this.#date,
        h("span.note", null, "none: today"),
      ),
      this.#place_row,
      this.#plan_row,
    );
  }
  get reader() {
    return this.#readers.find((radio) => radio.checked).value;
  }

  house() {
    this.#fill(
      this.#place,
      [["", kOwnChoice]],
      this.#app.house.places.map((one) => [one.place, one.text]),
      this.#kept.place,
    );
    this.#ask_plans();
    this.#show();
  }
  async #ask_plans() {
    const asked = ++this.#asked;
    try {
      const { balance } = await get("api/balance?keep_spares=0");
      if (asked !== this.#asked) return;
      const had = this.#plan.value;
      this.#fill(
        this.#plan,
        [["", kOwnChoice]],
        balance.plans.map((plan, i) => [
          String(i + 1),
          `plan ${i + 1}: ${counted(plan.moves, "circuit")} moved, ${amps(plan.spread_amps)} apart`,
        ]),
        this.#kept.plan,
      );
      if (this.#plan.value !== had) this.#told();
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      this.#fill(this.#plan, [["", kOwnChoice]], [], "");
    }
  }
  #fill(select, first, rows, kept) {
    const value = select.options.length > 0 ? select.value : (kept ?? "");
    fill(
      select,
      [...first, ...rows].map(([name, text]) => h("option", { value: name }, text)),
    );
    select.value = [...select.options].some((one) => one.value === value) ? value : "";
  }
  #show() {
    this.#place_row.hidden = this.reader !== "event";
    this.#plan_row.hidden = this.reader !== "contractor";
  }
  #changed() {
    this.#show();
    this.#kept = {
      for: this.reader,
      date: this.#date.value,
      place: this.#place.value,
      plan: this.#plan.value,
    };
    sessionStorage.setItem(kStore, JSON.stringify(this.#kept));
    this.#told();
  }

  // What api/record is asked for.
  parameters() {
    const asked = { for: this.reader };
    if (this.#date.value) asked.date = this.#date.value;
    if (this.reader === "event" && this.#place.value) asked.place = this.#place.value;
    if (this.reader === "contractor" && this.#plan.value) asked.plan = this.#plan.value;
    return asked;
  }
  words() {
    return `Record for ${/^[aeiou]/.test(this.reader) ? "an" : "a"} ${this.reader}`;
  }
}
