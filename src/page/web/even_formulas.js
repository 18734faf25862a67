// How uneven the legs are by the formulas of different trades, as it is and with each plan.
import { h, fill, amps, table_head } from "./dom.js";

const kColumns = [
  ["imbalance_by_mean_percent", "furthest from the mean, %"],
  ["imbalance_by_largest_percent", "largest less smallest, of the largest, %"],
  ["imbalance_by_half_percent", "difference, of half of the sum, %"],
];
const percent = (value) => (value === null || value === undefined ? "–" : value.toFixed(1));

export class Formulas {
  #body = h("div.wide", { tabindex: "0", role: "region", "aria-label": "By the trades' formulas" });
  root = h("details", null, h("summary", null, "By the trades' formulas"), this.#body);

  show(balance, legs) {
    const columns = kColumns.filter(([key]) => balance.scenarios.some((row) => row[key] !== null));
    const states = [
      ["as it is", balance.scenarios],
      ...balance.plans.map((p, i) => [`plan ${i + 1}`, p.scenarios]),
    ];
    fill(
      this.#body,
      h(
        "table",
        null,
        table_head([
          ["Scenario"],
          ["Where"],
          ...legs.map((leg) => [leg, "number"]),
          ...columns.map(([, words]) => [words, "number", "ev-formula"]),
        ]),
        h(
          "tbody",
          null,
          balance.scenarios.map((row, s) =>
            states.map(([where, rows], i) =>
              h(
                "tr",
                null,
                i === 0 && h("th", { scope: "rowgroup", rowspan: states.length }, row.scenario),
                h("td", null, where),
                rows[s].legs.map((leg) => h("td.number", null, amps(leg.amps))),
                columns.map(([key]) => h("td.number", null, percent(rows[s][key]))),
              ),
            ),
          ),
        ),
      ),
    );
  }
}
