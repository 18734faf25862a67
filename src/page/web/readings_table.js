// The table of readings: what a meter said, row by row. On a narrow screen each row is a card.
import { h, fill } from "./dom.js";
import { Entries } from "./readings_entries.js";
import { columns_of } from "./readings_columns.js";

export class ReadingsTable {
  #app;
  #made = "";
  #entries = null;
  #head = h("div.r-head", { role: "row" });
  #table = h("div.r-table", { role: "table", "aria-label": "Readings" });
  #none = h("p.note");
  root = h(
    "section",
    { "aria-label": "Readings taken" },
    h(
      "p.note",
      null,
      h("span.measured", null, "measured"),
      " marks what a meter read. A row is saved as a whole: with Enter, or " +
        "when you leave it. Arrow keys go from cell to cell, Escape takes back what was typed in the row.",
    ),
    this.#none,
    this.#table,
  );

  constructor(app) {
    this.#app = app;
  }

  house() {
    const columns = columns_of(this.#app);
    const made = JSON.stringify([columns.first, columns.figures, columns.more]);
    this.#none.textContent =
      this.#app.house.house.panel.length > 0
        ? ""
        : "Readings are taken at a panel or an outlet: enter one in House first.";
    if (made === this.#made) return this.#entries.house();
    this.#made = made;
    this.#build(columns);
  }
  #build(columns) {
    const { first, figures, last, more } = columns;
    const in_row = [...first, ...figures, ...last];
    this.#table.dataset.legs = String(Math.max(2, this.#app.house.legs.length));
    this.#table.style.setProperty("--figures", String(figures.length));
    fill(
      this.#head,
      h("span", { role: "columnheader" }, "#"),
      in_row.map((spec) =>
        h("span", { role: "columnheader", class: spec.measured ? "measured" : "" }, spec.label),
      ),
      h("span", { role: "columnheader" }, h("span.r-hidden", null, "More and remove")),
    );
    this.#entries = new Entries(this.#app, {
      kind: "reading",
      thing: "reading",
      specs: [...in_row, ...more],
      layout: (entry) => this.#row(entry, in_row.length),
      numbered: (entry) => entry.tell_number(entry.root),
      start: () => this.#start(),
      lacks: (entry) => lacks(entry),
      label: (entry) =>
        entry.adds ? `Add a reading at ${entry.value("at")}` : `Change reading ${entry.number}`,
    });
    this.#entries.list.setAttribute("role", "rowgroup");
    fill(this.#table, this.#head, this.#entries.list);
  }
  // Where the one before was taken, and with its meter.
  #start() {
    const { reading, panel } = this.#app.house.house;
    const before = reading.at(-1);
    if (!before) return { at: panel[0]?.name ?? "" };
    const kept = [
      "at",
      "instrument",
      "meter_input",
      "accuracy_percent",
      "accuracy_volts",
      "amps_accuracy_percent",
    ];
    return Object.fromEntries(kept.filter((key) => key in before).map((key) => [key, before[key]]));
  }

  #row(entry, count) {
    const cells = entry.fields.slice(0, count);
    const more = entry.fields.slice(count);
    const on = entry.field("on");
    const extra = h(
      "div.r-more",
      { hidden: true, role: "cell" },
      more.map((field) => field.root),
    );
    const open = h(
      "button.quiet.r-more-button",
      {
        type: "button",
        "data-action": "more",
        "aria-expanded": "false",
        onclick: () => {
          extra.hidden = !extra.hidden;
          open.setAttribute("aria-expanded", String(!extra.hidden));
          if (!extra.hidden) more[0].control.focus();
        },
      },
      "More",
    );
    const word = h("span.r-word");
    const number = h("span");
    for (const field of cells) field.root.setAttribute("role", "cell");
    const remove = h("button.quiet", {
      type: "button",
      "data-action": "remove",
      onclick: () => this.#entries.remove(entry),
    });
    entry.tell_number = (root) => {
      const adds = entry.number === null;
      root.dataset.reading = number.textContent = adds ? "new" : String(entry.number);
      word.textContent = adds ? "Reading, " : "Reading ";
      remove.textContent = adds ? "Discard" : "Remove";
      remove.setAttribute("aria-label", adds ? "Discard what is typed here" : `Remove ${entry.called}`);
    };
    return h(
      "div.r-row",
      { role: "row" },
      h("div.r-number", { role: "rowheader" }, word, number),
      cells.map((field) => field.root),
      h("div.r-acts", { role: "cell" }, open, remove),
      h("div.r-on", { role: "cell" }, on.pane),
      extra,
      entry.note,
    );
  }
}

const kNoReading = [
  "at",
  "label",
  "time",
  "instrument",
  "meter_input",
  "accuracy_percent",
  "accuracy_volts",
  "amps_accuracy_percent",
];

function lacks(entry) {
  if (!entry.value("at")) return "say at which panel or outlet it was taken";
  const told = entry.fields.some((field) => {
    const value = field.read();
    return !kNoReading.includes(field.key) && value !== "" && value !== false && value.length !== 0;
  });
  return told ? "" : "it has no value that was read";
}
