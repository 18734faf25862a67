// Beside the cautions: which loads that are on an open or loosened neutral makes bright, and which dim.
import { h, volts, counted } from "./dom.js";
import { write } from "./watch_ruler.js";

const kShown = 5; // rows of a list that stand unfolded
const kFar = 0.05; // of nominal: what the program calls bright or dim

const change = (load) => (load.volts - load.sound_volts) / load.nominal_volts;

class Row {
  #name = h("span.w-changed-name");
  #volts = h("span.w-changed-volts");
  #word = h("span.w-word");
  #load = "";
  constructor(go) {
    this.root = h(
      "li",
      { hidden: true },
      h("button", { type: "button", onclick: () => go(this.#load) }, this.#name, this.#volts, this.#word),
    );
  }
  show(load) {
    this.#load = load?.load ?? "";
    this.root.hidden = !load;
    if (!load) return;
    write(this.#name, load.load);
    write(this.#volts, `${volts(load.sound_volts)} → ${volts(load.volts)}`);
    write(this.#word, load.past ? `‼ past its ${load.withstands.toFixed(0)} V` : "");
  }
}

class Side {
  #title = h("h4");
  #rows = [];
  #first = h("ul");
  #rest = h("ul");
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
    while (this.#rows.length < loads.length) this.#add();
    this.#rows.forEach((row, i) => row.show(loads[i]));
    this.#fold.hidden = loads.length <= kShown;
    write(this.#more, `${loads.length - kShown} more`);
  }
  #add() {
    const row = new Row(this.#go);
    (this.#rows.length < kShown ? this.#first : this.#rest).append(row.root);
    this.#rows.push(row);
  }
}

export class Changes {
  #off = h("p.note");
  #bright;
  #dim;
  // go(name): to a load's row.
  constructor(go) {
    this.#bright = new Side("bright", "▲ Bright", go);
    this.#dim = new Side("dim", "▼ Dim", go);
    this.root = h(
      "div.w-changed",
      { role: "group", "aria-label": "What goes bright and what goes dim" },
      h("div.w-changed-sides", null, this.#bright.root, this.#dim.root),
      this.#off,
    );
  }
  show({ loads }) {
    const furthest = (a, b) => Math.abs(change(b)) - Math.abs(change(a));
    const of = (which) => loads.filter((one) => one.on && one.change === which).sort(furthest);
    this.#bright.show(of("bright"));
    this.#dim.show(of("dim"));
    const off = loads.filter((one) => !one.on && one.change !== "steady").length;
    write(
      this.#off,
      `Loads that are on, ${kFar * 100} % of nominal or more from the volts with this neutral sound.` +
        (off > 0 ? ` The terminals of ${counted(off, "load")} that ${off === 1 ? "is" : "are"} off change so too.` : ""),
    );
  }
}
