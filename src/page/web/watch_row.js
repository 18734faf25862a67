// A load's row: its switch, its volts, and where they stand on the common ruler.
import { h, volts, amps } from "./dom.js";
import { Ruler, leg_fills, write } from "./watch_ruler.js";

const kHyphen = "\u2011"; // "L2-N" stays on one line

const limit_text = (load) => `‼ past its ${load.withstands.toFixed(0)} V`;

// The word and sign beside a load's volts.
export function load_word(load) {
  if (load.volts === null) return "– no volts fixed";
  if (!load.on) return "off";
  if (load.past) return limit_text(load);
  if (load.change === "bright") return "▲ bright";
  if (load.change === "dim") return "▼ dim";
  return "";
}

function load_class(load) {
  if (!load.on) return "off";
  return load.past ? "on past" : "on";
}

export class LoadRow {
  #legs = h("span.w-legs-of");
  #volts = h("span.w-volts");
  #amps = h("span.w-amps");
  #word = h("span.w-word");
  #ruler = new Ruler();
  #class = "";
  #more;

  // entry: the load in the house; derived: what the house's answer says of it.
  constructor(entry, derived, flip) {
    const at = entry.at === entry.name ? "" : `${entry.at} · `;
    this.name = entry.name;
    this.#more = ` · ${derived?.rating ?? ""}${entry.switching === "free" ? "" : ` · ${entry.switching}`}`;
    this.sought = [entry.name, entry.at, entry.kind, ...(derived?.circuits ?? [])].join("\n").toLowerCase();
    this.knob = h(
      "button.w-switch",
      {
        type: "button",
        role: "switch",
        "aria-checked": "false",
        "data-load": entry.name,
        onclick: () => flip(this),
      },
      h("span.w-knob", { "aria-hidden": "true" }),
      h("span.w-of", null, h("span.w-name", null, entry.name), h("span.w-where", null, at, this.#legs)),
    );
    this.#volts.dataset.loadVolts = entry.name;
    this.root = h(
      "li.w-row",
      null,
      this.knob,
      this.#ruler.root,
      h("span.w-figures", null, this.#amps, this.#volts, this.#word),
    );
  }
  get on() {
    return this.knob.getAttribute("aria-checked") === "true";
  }
  set on(value) {
    if (value !== this.on) this.knob.setAttribute("aria-checked", value);
  }
  seek(text) {
    this.root.hidden = !this.sought.includes(text);
    return !this.root.hidden;
  }

  show(load, end, legs) {
    this.on = load.on;
    write(this.#legs, load.legs.replaceAll("-", kHyphen) + this.#more);
    write(this.#volts, volts(load.volts));
    write(this.#amps, load.on ? amps(load.amps) : "");
    write(this.#word, load_word(load));
    const is = load_class(load);
    if (is !== this.#class) {
      this.#class = is;
      this.root.className = `w-row ${is}`;
    }
    this.#ruler.show({
      end,
      nominal: load.nominal_volts,
      limit: load.withstands,
      volts: load.volts,
      fills: leg_fills(legs, load.legs),
    });
  }
}
