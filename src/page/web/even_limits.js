// The fullest leg of each panel in each scenario against what limits it, the house as it is; and what a
// leg that is over would have to shed.
import { h, fill, amps, table_head } from "./dom.js";

const kHeads = [["Scenario"], ["Fullest leg"], ["carries", "number"], ["left or over", "number"]];

const over_text = (row) => (row.over_amps > 0 ? `‼ ${amps(row.over_amps)} over` : `${amps(-row.over_amps)} left`);
const shed_text = (row) =>
  "To shed: " +
  row.shed.map((one) => `${one.load ?? one.circuit}${one.always_on ? " (always on)" : ""}`).join(", ") +
  (!row.fits ? "; still over then" : "");

export class Limits {
  #body = h("div.wide", { tabindex: "0", role: "region", "aria-label": "Legs against their limit" });
  #title = h("summary");
  root = h("details.ev-limits", { hidden: true }, this.#title, this.#body);

  show({ limits }) {
    const over = limits.filter((row) => row.over_amps > 0).length;
    this.root.hidden = limits.length === 0;
    this.#title.textContent = `Legs against their limit${over > 0 ? `: ${over} over` : ""}`;
    fill(
      this.#body,
      h(
        "p.note",
        null,
        "The house as it is, with each panel's breaker as the limit (of the first panel the service's, or " +
          "its own where that is less); amperes from nameplates, starting currents not counted. " +
          "To shed: the largest load on that leg first, what is always on last.",
      ),
      h(
        "table",
        null,
        table_head(kHeads),
        panels_in(limits).map((rows) => this.#panel(rows)),
      ),
    );
  }
  #panel(rows) {
    const { panel, limit_amps } = rows[0];
    const wide = { colspan: kHeads.length };
    return h(
      "tbody",
      null,
      h("tr", null, h("th", { scope: "rowgroup", ...wide }, `${panel}, limit ${amps(limit_amps)}`)),
      rows.map((row) => [
        h(
          "tr",
          null,
          h("th", { scope: "row" }, row.scenario),
          h("td", null, row.leg),
          h("td.number", null, amps(row.amps)),
          h("td.number", { class: row.over_amps > 0 ? "over" : "" }, over_text(row)),
        ),
        row.shed.length > 0 && h("tr", null, h("td", wide, shed_text(row))),
      ]),
    );
  }
}

// The rows of each panel, which follow each other.
function panels_in(limits) {
  const panels = new Map();
  for (const row of limits) panels.set(row.panel, [...(panels.get(row.panel) ?? []), row]);
  return [...panels.values()];
}
