// What stands in the view's place while a house cannot be answered for.
import { h } from "./dom.js";

const enter = (app, name, text) =>
  h("button.quiet", { type: "button", onclick: () => app.go("enter", name) }, text);

// Null where the house can be watched.
export function unready(app) {
  const { house, ready, unfinished } = app.house;
  if (house.load.length === 0) {
    return h(
      "section.plate.w-unready",
      null,
      h("h2", null, "No load is entered yet"),
      h(
        "p",
        null,
        "Volts and amps can be shown once the house has at least one load. ",
        enter(app, "", "Enter loads"),
      ),
      missing(app, unfinished),
    );
  }
  if (ready) return null;
  return h(
    "section.plate.w-unready",
    null,
    h("h2", null, "What is missing for an answer"),
    h("p", null, "No volts are shown until this is entered:"),
    missing(app, unfinished),
  );
}

function missing(app, unfinished) {
  if (unfinished.length === 0) return null;
  return h(
    "ul",
    null,
    unfinished.map((one) =>
      h(
        "li",
        null,
        h("b", null, `${one.kind}${one.name ? ` “${one.name}”` : ""}`),
        `: ${one.what}; ${one.remedy}. `,
        enter(app, one.name, "Enter it"),
      ),
    ),
  );
}
