// What an answer still waits for, and what it takes for granted; each row leads to its field.
import { h, fill, counted } from "./dom.js";
import { thing } from "./enter_labels.js";
import { keeping_focus } from "./enter_focus.js";

export class Missing {
  #app;
  #go;
  #made = "";
  #list = h("ul");
  #could = h("ul");
  #head = h("h3", { id: "e-missing-title", tabindex: "-1" });
  #summary = h("summary");
  #folded = h("details.e-fold", { id: "could-add" }, this.#summary, this.#could);
  #none = h("p.note", null, "Nothing is missing for an answer. It knows of nothing but what is entered.");
  root = h(
    "section.plate.e-missing",
    { id: "unfinished", "aria-labelledby": "e-missing-title" },
    this.#head,
    this.#none,
    this.#list,
    this.#folded,
  );
  // At the head of the view, for where the list is far below.
  brief = h("a.e-brief", { href: "#enter", onclick: (event) => this.#to_list(event) });

  // go(row): to the field.
  constructor(app, go) {
    this.#app = app;
    this.#go = go;
  }
  #to_list(event) {
    event.preventDefault();
    this.root.scrollIntoView({ block: "start" });
    this.#head.focus({ preventScroll: true });
  }
  house() {
    const { unfinished, could_add } = this.#app.house;
    const made = JSON.stringify([unfinished, could_add]);
    if (made === this.#made) return;
    this.#made = made;
    this.#head.textContent = "Still missing for an answer";
    this.#none.hidden = unfinished.length > 0;
    this.brief.textContent =
      unfinished.length > 0
        ? `${counted(unfinished.length, "entry", "entries")} still missing for an answer`
        : "";
    this.brief.hidden = unfinished.length === 0;
    this.#summary.textContent = `Could be added: ${could_add.length}`;
    this.#folded.hidden = could_add.length === 0;
    keeping_focus(this.root, () => {
      fill(
        this.#list,
        unfinished.map((row) => this.#row(row, "missing")),
      );
      fill(
        this.#could,
        could_add.map((row) => this.#row(row, "could")),
      );
    });
  }
  #row(row, what) {
    const subject = thing(row.kind, row.name || (row.number > 1 ? `#${row.number}` : ""));
    return h(
      "li",
      null,
      h(
        "button.e-to-field",
        {
          type: "button",
          "data-action": "go-to",
          "data-kind": row.kind,
          "data-name": row.name,
          "data-field-key": row.key,
          "data-key": `${what}:${row.kind}:${row.name}:${row.key}`,
          onclick: () => this.#go(row),
        },
        h("b", null, subject),
        `: ${row.what}; ${row.remedy}.`,
      ),
    );
  }
}
