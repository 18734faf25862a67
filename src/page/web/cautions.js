// The cautions of every record, for wherever the page shows an open or loosened neutral.
import { h } from "./dom.js";

// `shown`: what the cautions are about, to stand below the first of them.
export function caution_block(app, shown = null) {
  const { standing, groups } = app.words.cautions;
  return h("section.caution", { "aria-label": "Cautions" },
    h("h3", null, standing),
    shown,
    groups.map((group) => h("details", { open: group === groups[0] }, h("summary", null, group.title),
      h("ul", null, group.sentences.map((sentence) => h("li", null, sentence))))));
}
