// Readings: what a meter said, entered row by row, and what it supports. Beside it the texts of the visit
// and the findings of whoever was on site.
import { h, fill } from "./dom.js";
import { ReadingsTable } from "./readings_table.js";
import { Support } from "./readings_support.js";
import { Findings, Visit } from "./readings_visit.js";

export const title = "Readings";

export function mount(root, app) {
  const parts = [new ReadingsTable(app), new Support(app), new Findings(app), new Visit(app)];
  fill(
    root,
    h("h2", null, title),
    h(
      "div.r-view",
      null,
      parts.map((part) => part.root),
    ),
  );
  const house = () => {
    for (const part of parts) part.house();
  };
  house();
  return app.on("house", house);
}
