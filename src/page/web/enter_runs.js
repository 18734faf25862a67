// The loads of a scenario: which run, or what share of the time each does.
import { h, fill } from "./dom.js";
import { names } from "./enter_find.js";
import { Field } from "./enter_fields.js";
import { keeping_focus } from "./enter_focus.js";

// Loads that run, or a share of 0 to 1 for each: two keys, of which one is given.
export class RunsField extends Field {
  #app;
  constructor(app) {
    super({
      keys: ["on", "share"],
      label: "Loads",
      control: h("div.e-runs", { role: "group", "aria-label": "Loads that run" }),
    });
    this.#app = app;
    this.root.querySelector("label").replaceWith(h("span.e-label", null, "Loads"));
    const way = (value, text) =>
      h(
        "label",
        null,
        h("input", { type: "radio", name: "way", value, checked: value === "on" }),
        ` ${text}`,
      );
    this.ways = h(
      "div.e-ticks",
      null,
      way("on", "These run, all others do not"),
      way("share", "Each runs for a share of the time, 0 to 1"),
    );
    this.rows = h("div.e-ticks");
    fill(this.control, this.ways, this.rows);
    this.refresh();
  }
  get #way() {
    return this.ways.querySelector("input:checked").value;
  }
  refresh() {
    const all = names(this.#app, "load");
    const made = JSON.stringify([all, this.#way]);
    if (made === this.rows.dataset.made) return;
    const now = this.rows.dataset.made ? this.read() : { way: "on", on: [], share: {} };
    this.rows.dataset.made = made;
    keeping_focus(this.rows, () =>
      fill(
        this.rows,
        all.map((name) =>
          h(
            "label",
            null,
            h("input", { type: "checkbox", name: "on", value: name, "data-key": `on:${name}` }),
            ` ${name}`,
            h("input.e-share", {
              name: "share",
              "data-load": name,
              "data-key": `share:${name}`,
              inputmode: "decimal",
              "aria-label": `Share of ${name}`,
            }),
          ),
        ),
      ),
    );
    this.#put(now);
  }
  of(record) {
    const all = names(this.#app, "load"); // in the order of the boxes
    const share = Object.fromEntries(
      all.filter((name) => name in (record.share ?? {})).map((name) => [name, String(record.share[name])]),
    );
    const on = all.filter((name) => record.on?.includes(name));
    return { way: Object.keys(share).length > 0 ? "share" : "on", on, share };
  }
  read() {
    const on = [...this.rows.querySelectorAll("[name=on]:checked")].map((box) => box.value);
    const given = [...this.rows.querySelectorAll("[name=share]")].filter(
      (field) => field.value.trim() !== "",
    );
    return {
      way: this.#way,
      on,
      share: Object.fromEntries(given.map((field) => [field.dataset.load, field.value.trim()])),
    };
  }
  show(draft) {
    this.ways.querySelector(`[value=${draft.way}]`).checked = true;
    this.refresh();
    this.#put(draft);
  }
  #put({ way, on, share }) {
    const shares = way === "share";
    for (const box of this.rows.querySelectorAll("[name=on]")) {
      box.checked = on.includes(box.value);
      box.hidden = shares;
    }
    for (const field of this.rows.querySelectorAll("[name=share]")) {
      field.value = share[field.dataset.load] ?? "";
      field.hidden = !shares;
    }
  }
  same(a, b) {
    return (
      a.way === b.way &&
      JSON.stringify(a.way === "on" ? a.on : a.share) === JSON.stringify(b.way === "on" ? b.on : b.share)
    );
  }
  edits(draft, record) {
    const [key, other] = draft.way === "on" ? ["on", "share"] : ["share", "on"];
    return { set: { [key]: draft[key] }, clear: record[other] === undefined ? [] : [other] };
  }
  focus() {
    this.control.querySelector("input").focus();
  }
}
