// The record: for whom, as a page to look at, and as a file to keep.
import { h, fill } from "./dom.js";
import { what_is_missing } from "./missing.js";
import { Preview } from "./record_preview.js";
import { Save } from "./record_save.js";
import { Choices } from "./record_choices.js";

export const title = "Record";

class Record {
  #app;
  #missing = h("div");
  #view = h("div.rc-view");

  constructor(root, app) {
    this.#app = app;
    this.choices = new Choices(app, () => this.#chosen());
    this.save = new Save(app);
    this.preview = new Preview(app);
    fill(this.#view, h("div.rc-side", null, this.choices.root, this.save.root), this.preview.root);
    fill(root, h("h2", null, title), this.#missing, this.#view);
  }
  house() {
    const missing = what_is_missing(this.#app);
    fill(
      this.#missing,
      missing && [
        h(
          "p",
          null,
          "A record is made once the house can be answered for. ",
          h("a", { href: "#enter" }, "Enter what is missing in House"),
          ".",
        ),
        missing,
      ],
    );
    this.#view.hidden = missing !== null;
    if (missing) return this.preview.leave();
    this.choices.house();
    this.#chosen();
  }
  #chosen() {
    this.save.choose(this.choices.parameters());
    this.preview.want(this.choices.parameters(), this.choices.words());
  }
  leave() {
    this.preview.leave();
    this.save.leave();
  }
}

export function mount(root, app) {
  const record = new Record(root, app);
  const stop = app.on("house", () => record.house());
  record.house();
  return () => {
    stop();
    record.leave();
  };
}
