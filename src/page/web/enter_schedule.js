// A whole panel schedule, pasted as it is copied from a spreadsheet, shown as rows before any of it
// is entered.
import { h, fill, counted } from "./dom.js";
import { post, Refused } from "./api.js";
import { names } from "./enter_find.js";

const kStore = "enter-schedule";
const kCalm = 300; // milliseconds after the last letter

function row_of(row) {
  const name = [row.name, row.fault && h("p.over", null, `Left out: ${row.fault}`)];
  const breaker = row.breaker_a ? `${row.breaker_a} A` : "–";
  const length = row.length_ft ? `${row.length_ft} ft` : "–";
  const cells = [row.line, row.space ?? "–", name, breaker, row.poles, row.conductor ?? "–", length];
  return h(
    "tr",
    { "data-line": row.line },
    cells.map((cell) => h("td", null, cell)),
  );
}

export class Schedule {
  #app;
  #timer = 0;
  #asked = 0;
  #answer = null;
  #text = h("textarea", {
    id: "schedule-text",
    rows: 8,
    name: "schedule",
    spellcheck: "false",
    oninput: () => this.#typed(),
    placeholder: "1\tRange\t40\t2\t8 Cu",
  });
  #panel = h("select", { id: "schedule-panel", name: "panel", onchange: () => this.#ask() });
  #panel_row = h("p", null, h("label", { for: "schedule-panel" }, "Into panel "), this.#panel);
  #preview = h("div", { "aria-live": "polite" });
  #enter = h(
    "button.act",
    { type: "button", "data-action": "enter-schedule", disabled: true, onclick: () => this.#take() },
    "Enter the circuits",
  );
  #button;

  constructor(app) {
    this.#app = app;
    this.#text.value = sessionStorage.getItem(kStore) ?? "";
    this.#button = h(
      "button",
      {
        type: "button",
        id: "paste-schedule",
        "data-action": "paste-schedule",
        "aria-expanded": "false",
        "aria-controls": "schedule",
        onclick: () => this.#fold(this.root.hidden),
      },
      "Paste a schedule",
    );
    this.root = h(
      "section.plate.e-schedule",
      {
        id: "schedule",
        "aria-labelledby": "schedule-title",
        hidden: true,
        onkeydown: (event) => event.key === "Escape" && this.#fold(false),
      },
      h("h3", { id: "schedule-title" }, "A panel schedule from a spreadsheet"),
      h(
        "p.note",
        null,
        "Space, description, breaker, poles, conductor and length, in columns parted by tabs, ",
        "semicolons or commas, with or without ",
        "headings; one list or two halves side by side. Empty and spare rows are passed over.",
      ),
      this.#panel_row,
      h("label", { for: "schedule-text" }, "Pasted cells"),
      this.#text,
      this.#preview,
      h(
        "div.e-acts",
        null,
        this.#enter,
        h(
          "button.quiet",
          { type: "button", "data-action": "close", onclick: () => this.#fold(false) },
          "Close",
        ),
      ),
    );
    if (this.#text.value) this.#fold(true, false);
  }
  get button() {
    return this.#button;
  }
  leave() {
    clearTimeout(this.#timer);
  }
  house() {
    const all = names(this.#app, "panel");
    if (this.#panel.dataset.made !== JSON.stringify(all)) {
      const now = this.#panel.value;
      this.#panel.dataset.made = JSON.stringify(all);
      fill(
        this.#panel,
        all.map((name) => h("option", { value: name }, name)),
      );
      if (all.includes(now)) this.#panel.value = now;
    }
    this.#panel_row.hidden = all.length < 2;
    if (!this.root.hidden) this.#ask();
  }
  #fold(open, focus = true) {
    this.root.hidden = !open;
    this.#button.setAttribute("aria-expanded", String(open));
    if (focus) (open ? this.#text : this.#button).focus();
    if (open) this.#ask();
  }
  #typed() {
    sessionStorage.setItem(kStore, this.#text.value);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#ask(), kCalm);
  }

  async #ask() {
    const asked = ++this.#asked;
    const text = this.#text.value;
    if (text.trim() === "" || !this.#panel.value) return this.#show(null);
    try {
      const answer = await post("api/schedule", { panel: this.#panel.value, text });
      if (asked === this.#asked) this.#show(answer);
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      if (asked === this.#asked) this.#show({ rows: [], edits: [], faults: reason.faults });
    }
  }
  #show(answer) {
    this.#answer = answer;
    const count = answer?.edits.length ?? 0;
    this.#enter.disabled = count === 0;
    this.#enter.textContent =
      count === 0
        ? "Enter the circuits"
        : `Enter ${count === 1 ? "this circuit" : `these ${count} circuits`}`;
    if (!answer) return fill(this.#preview);
    const faulty = answer.rows.filter((row) => row.fault).length;
    fill(
      this.#preview,
      answer.rows.length > 0
        ? this.#table(answer.rows)
        : h("p", null, "No row with a circuit was found in it."),
      answer.rows.length > 0 &&
        h(
          "p",
          null,
          `${counted(count, "circuit")} to enter`,
          faulty > 0 && `, ${counted(faulty, "row")} with a fault, left out`,
          ".",
        ),
      this.#others(answer),
    );
  }
  // Faults that no row tells already.
  #others({ rows, faults }) {
    const told = new Set(rows.map((row) => row.fault));
    const rest = (faults ?? []).filter((fault) => !told.has(fault.what));
    return (
      rest.length > 0 &&
      h(
        "ul.over",
        null,
        rest.map((fault) => h("li", null, `${fault.where}: ${fault.what}; ${fault.remedy}.`)),
      )
    );
  }
  #table(rows) {
    const head = ["Line", "Space", "Circuit", "Breaker", "Poles", "Conductor", "Length"];
    const heads = head.map((text) => h("th", { scope: "col" }, text));
    const table = h(
      "table",
      null,
      h("thead", null, h("tr", null, heads)),
      h("tbody", null, rows.map(row_of)),
    );
    return h("div.wide", { role: "region", "aria-label": "Rows that were read", tabindex: 0 }, table);
  }
  async #take() {
    const { edits } = this.#answer;
    if (!(await this.#app.edit(`Enter ${counted(edits.length, "circuit")} from a schedule`, edits))) return;
    this.#text.value = "";
    sessionStorage.removeItem(kStore);
    this.#fold(false);
  }
}
