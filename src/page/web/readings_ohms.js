// The conductors' resistances that the readings give, each with its uncertainty.
import { h } from "./dom.js";

export const ohms_of = (value) => (value === null || value === undefined ? "–" : value.toFixed(3));

function section_of(section) {
  const of_circuit = section.circuit ? `, ${section.circuit}` : "";
  const title = `From ${section.from ?? "the source"} to ${section.to}${of_circuit}`;
  const head = (words) => h("th.number", { scope: "col" }, words);
  return h(
    "div.wide",
    { tabindex: "0", role: "region", "aria-label": title },
    h(
      "table.r-ohms",
      null,
      h("caption", null, title),
      h(
        "thead",
        null,
        h(
          "tr",
          null,
          h("th", { scope: "col" }, "Conductor"),
          head("Ω"),
          head("± Ω"),
          head("run, Ω"),
          head("transformer, Ω"),
          head("excess, Ω"),
          h("th", { scope: "col" }, ""),
        ),
      ),
      h(
        "tbody",
        null,
        section.conductors.map((one) =>
          h(
            "tr",
            { "data-conductor": one.conductor },
            h("th", { scope: "row" }, one.conductor),
            [one.ohms, one.standard_error, one.expected_ohms, one.transformer_ohms, one.excess_ohms].map(
              (value) => h("td.number", null, ohms_of(value)),
            ),
            h("td", null, one.stands_out && h("b", null, "stands out")),
          ),
        ),
      ),
    ),
  );
}

export function conductors_of({ sections, accuracy_stated, residual_volts, source_volts }) {
  const shown = sections.filter((section) => section.conductors.length > 0);
  if (shown.length === 0) return null;
  const accuracy = accuracy_stated ? "" : " The meter's accuracy is not stated for all readings.";
  const source = source_volts === null ? "" : ` Source, fitted: ${source_volts.toFixed(1)} V.`;
  return h(
    "section",
    null,
    h("h4", null, "What the conductors show, computed"),
    shown.map(section_of),
    h(
      "p.note",
      null,
      `± is one standard error.${accuracy} Run: what the described conductor and length account for; ` +
        `excess is the rest.${source} The readings stand ${residual_volts.toFixed(2)} V from the fitted ` +
        "circuit (root mean square).",
    ),
  );
}
