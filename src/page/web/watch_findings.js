// What the audit finds in the wiring as described, without any neutral open.
import { h, fill } from "./dom.js";
import { current_audit } from "./watch_audit.js";

export class Findings {
  #app;
  #made = "";
  #list = h("ul.w-findings");
  root = h(
    "section",
    { "aria-labelledby": "watch-findings" },
    h("h3", { id: "watch-findings" }, "Found in the wiring as described"),
    this.#list,
  );

  constructor(app) {
    this.#app = app;
  }
  audit() {
    const findings = current_audit(this.#app)?.findings ?? [];
    this.root.hidden = findings.length === 0;
    const made = JSON.stringify(findings);
    if (made === this.#made) return;
    this.#made = made;
    fill(
      this.#list,
      findings.map((one) =>
        h(
          "li",
          null,
          h(
            "details",
            null,
            h(
              "summary",
              null,
              h("b", { class: one.severity === "danger" ? "over" : null }, one.severity),
              `: ${one.rule}`,
              one.subject && ` at ${one.subject}`,
            ),
            h("p", null, one.observation),
            one.implication && h("p", null, one.implication),
            one.recommendation && h("p", null, one.recommendation),
            h("p.note", null, one.source),
          ),
        ),
      ),
    );
  }
}
