// Beside the cautions: which loads that are on an open or loosened neutral makes bright, and which dim.
import { h, volts, counted } from "./dom.js";
import { kBand, write } from "./watch_ruler.js";

const kShown = 5; // rows of a list that stand unfolded
const kDead = 1; // volts: less is none, to a meter of the trade

const change = (load) => Math.abs(load.volts - load.sound_volts) / load.nominal_volts;

function word_of(load) {
  if (load.past) return `‼ past its ${load.withstands.toFixed(0)} V`;
  return load.volts < kDead ? "no volts left" : "";
}

class Row {
  #volts = h("span.w-changed-volts");
  #word = h("span.w-word");
  constructor(name, go) {
    const to = h("span.unseen", null, ", to its switch");
    this.root = h(
      "li",
      null,
      h(
        "button",
        { type: "button", onclick: () => go(name) },
        h("span.w-changed-name", null, name),
        this.#volts,
        this.#word,
        to,
      ),
    );
  }
  show(load) {
    write(this.#volts, `${volts(load.sound_volts)} → ${volts(load.volts)}`);
    write(this.#word, word_of(load));
  }
}

class Side {
  #title = h("h4");
  #rows = new Map(); // by load, so that the focus stays with it
  #first = h("ul", { role: "list" });
  #rest = h("ul", { role: "list" });
  #more = h("summary");
  #fold = h("details", { hidden: true }, this.#more, this.#rest);
  #sign;
  #go;
  constructor(key, sign, go) {
    this.#sign = sign;
    this.#go = go;
    this.root = h("div.w-changed-side", { "data-goes": key }, this.#title, this.#first, this.#fold);
  }
  show(loads) {
    write(this.#title, `${this.#sign}: ${loads.length === 0 ? "none" : counted(loads.length, "load")}`);
    const there = new Set(loads.map((load) => load.load));
    for (const [name, row] of this.#rows) if (!there.has(name)) this.#drop(name, row);
    loads.forEach((load, i) => {
      const row = this.#row(load.load);
      row.show(load);
      const list = i < kShown ? this.#first : this.#rest;
      const at = i < kShown ? i : i - kShown;
      if (list.children[at] !== row.root) this.#put(list, at, row.root);
    });
    this.#fold.hidden = loads.length <= kShown;
    write(this.#more, `${loads.length - kShown} more`);
  }
  #row(name) {
    if (!this.#rows.has(name)) this.#rows.set(name, new Row(name, this.#go));
    return this.#rows.get(name);
  }
  #drop(name, row) {
    row.root.remove();
    this.#rows.delete(name);
  }
  #put(list, at, element) {
    const focused = element.contains(document.activeElement) && document.activeElement;
    list.insertBefore(element, list.children[at] ?? null);
    if (focused) focused.focus({ preventScroll: true });
  }
}

export class Changes {
  #note = h("p.note");
  #bright;
  #dim;
  // go(name): to a load's switch.
  constructor(go) {
    this.#bright = new Side("bright", "▲ Bright", go);
    this.#dim = new Side("dim", "▼ Dim", go);
    this.root = h(
      "div.w-changed",
      { role: "group", "aria-label": "What goes bright and what goes dim" },
      h("div.w-changed-sides", null, this.#bright.root, this.#dim.root),
      this.#note,
    );
  }
  show({ loads }) {
    const { bright, dim, unknown, off } = changes_in(loads);
    const furthest = (a, b) => change(b) - change(a);
    this.#bright.show(bright.sort(furthest));
    this.#dim.show(dim.sort(furthest));
    const also = [
      `Loads that are on, ${kBand * 100} % of nominal or more from the volts with this neutral sound.`,
      unknown > 0 && `Of ${counted(unknown, "load")} that ${unknown === 1 ? "is" : "are"} on no volts can be stated.`,
      off > 0 && `The terminals of ${counted(off, "load")} that ${off === 1 ? "is" : "are"} off change so too.`,
    ];
    write(this.#note, also.filter(Boolean).join(" "));
  }
}

// Which loads change how: lists of those that are on, and how many others.
export function changes_in(loads) {
  const on = loads.filter((one) => one.on);
  return {
    bright: on.filter((one) => one.change === "bright"),
    dim: on.filter((one) => one.change === "dim"),
    unknown: on.filter((one) => one.volts === null).length,
    off: loads.filter((one) => !one.on && one.change !== "steady").length,
  };
}
