// What keeps the house from an answer, in place of figures that would be of another house.
import { h, counted } from "./dom.js";

// null where nothing is missing. Each row leads to the entry in the House part.
export function what_is_missing(app) {
  const { ready, unfinished } = app.house;
  if (ready) return null;
  return h("section.plate", { "aria-label": "Still missing" },
    h("h3", null, `No answer yet: ${counted(unfinished.length, "thing")} still missing`),
    h("ul", null, unfinished.map((one) => h("li", null,
      h("a", { href: `#enter/${encodeURIComponent(one.name)}` }, `${one.kind} ${one.name}`.trim()),
      `: ${one.what}; ${one.remedy}.`))));
}
