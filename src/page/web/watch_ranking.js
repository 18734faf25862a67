// The audit's ranking, worst first: each load where an open neutral hits it hardest, and why.
import { h, fill, volts } from "./dom.js";
import { Progress, current_audit } from "./watch_audit.js";
import { show_worst } from "./watch_worst.js";

const kFirst = 8;
const kWide = "(min-width: 68rem)";

export class Ranking {
  #app;
  #made = "";
  #progress = new Progress();
  #list = h("div");
  root = h(
    "details.w-ranking",
    { open: matchMedia(kWide).matches },
    h("summary", null, h("h3", null, "Ranking")),
    h(
      "p.note",
      null,
      "Each load where an open neutral could hit it hardest, over all credible states; every load a " +
        "constant impedance. Press a row to see that state.",
    ),
    this.#progress.root,
    this.#list,
  );

  constructor(app) {
    this.#app = app;
  }
  audit() {
    this.#progress.show(this.#app);
    const audit = current_audit(this.#app);
    const made = audit ? `${this.#app.audit.revision} ${this.#app.audit.proven}` : "";
    if (made === this.#made) return;
    this.#made = made;
    const focused = document.activeElement?.dataset.rank;
    const rows = (audit?.ranking ?? []).map((row, i) =>
      this.#row(row, this.#app.audit.reasons[i]?.reason ?? ""),
    );
    const more = rows.slice(kFirst);
    fill(
      this.#list,
      audit && rows.length === 0 && h("p", null, "No load can be reached by a neutral that opens."),
      h("ol.w-ranks", null, rows.slice(0, kFirst)),
      more.length > 0 &&
        h(
          "details",
          null,
          h("summary", null, `${more.length} more`),
          h("ol.w-ranks", { start: kFirst + 1 }, more),
        ),
    );
    if (focused) this.#list.querySelector(`[data-rank="${CSS.escape(focused)}"]`)?.focus();
  }
  #row(row, reason) {
    const text = this.#app.house.places.find((one) => one.place === row.place)?.text ?? row.place;
    return h(
      "li",
      null,
      h(
        "button.w-rank",
        { type: "button", "data-rank": row.load, onclick: () => show_worst(this.#app, row.place, row.on) },
        h("span.w-name", null, row.load),
        h("span.w-rank-volts", null, `${volts(row.volts)}, withstands ${volts(row.withstands_volts)}`),
        h(
          "span",
          { class: row.over > 1 ? "over" : null },
          `${row.severity}, ${row.over.toFixed(2)} times that`,
        ),
        h("span.note", null, `with ${text} open${row.proven ? "" : " · searched, not proven"}`),
      ),
      h("details", null, h("summary", null, `Why ${row.load} stands here`), h("p.note", null, reason)),
    );
  }
}
