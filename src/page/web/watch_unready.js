// What stands in the view's place while a house cannot be answered for.
import { h } from "./dom.js";
import { what_is_missing } from "./missing.js";

// Null where the house can be watched.
export function unready(app) {
  if (app.house.house.load.length > 0) return what_is_missing(app);
  return h(
    "section.plate.w-unready",
    null,
    h("h2", null, "No load is entered yet"),
    h(
      "p",
      null,
      "Volts and amps can be shown once the house has at least one load. ",
      h("button.quiet", { type: "button", onclick: () => app.go("enter") }, "Enter loads"),
    ),
    what_is_missing(app),
  );
}
