// Every load with its switch, by circuit or by multiwire cable; a box to look for one; and the
// volts of the outlets that have no load.
import { h, fill, amps, counted } from "./dom.js";
import { LoadRow } from "./watch_row.js";
import { EmptyOutlets } from "./watch_outlets.js";
import { ruler_key, write } from "./watch_ruler.js";

// Loads on one cable stand together, cables in the order of the house's circuits.
function cables_of(house) {
  const of_load = new Map(house.loads.map((load) => [load.load, load]));
  const order = new Map(house.circuits.map((circuit, i) => [circuit.circuit, i]));
  const first = (load) => order.get(of_load.get(load.name)?.circuits[0]) ?? order.size;
  const cables = new Map();
  for (const load of [...house.house.load].sort((a, b) => first(a) - first(b))) {
    const key = of_load.get(load.name)?.cable;
    if (!cables.has(key)) cables.set(key, []);
    cables.get(key).push(load);
  }
  return [...cables.values()].map((loads) => ({ loads, ...about(house, of_load.get(loads[0].name)) }));
}

function about(house, load) {
  const circuit = house.circuits.find((one) => one.circuit === load?.circuits[0]);
  const multiwire = circuit?.multiwire ?? null;
  const circuits = multiwire
    ? house.circuits.filter((one) => one.multiwire === multiwire).map((one) => one.circuit)
    : (load?.circuits ?? []);
  return { title: multiwire ?? circuit?.circuit ?? "", multiwire, circuits, panel: circuit?.panel ?? "" };
}

// In their order, so that one half above the other reads as the whole. Columns of CSS would lay
// out every row again at each click.
function halves(cables) {
  const size = (cable) => cable.rows.length + 1;
  const all = cables.reduce((sum, cable) => sum + size(cable), 0);
  let before = 0;
  const first = cables.findIndex((cable) => {
    before += size(cable);
    return before - size(cable) / 2 > all / 2;
  });
  return first < 1 ? [cables] : [cables.slice(0, first), cables.slice(first)];
}

class Cable {
  #figures = h("span.w-cable-amps");

  constructor(cable, many_panels, rows, set) {
    this.cable = cable;
    this.rows = rows;
    const title = many_panels ? `${cable.title} · ${cable.panel}` : cable.title;
    this.root = h(
      "section.w-cable",
      { "aria-label": title },
      h(
        "div.w-cable-head",
        null,
        h(
          "div.w-cable-of",
          null,
          h("h4", null, title, cable.multiwire && h("span.w-kind", null, " multiwire circuit")),
          this.#figures,
        ),
        h(
          "button.w-small",
          { type: "button", "aria-label": `All off: ${title}`, onclick: () => set(rows, false) },
          "all off",
        ),
      ),
      h(
        "ul",
        null,
        rows.map((row) => row.root),
      ),
    );
  }
  show(of_circuit, of_neutral) {
    const figures = this.cable.circuits.map((name) => {
      const poles = (of_circuit.get(name) ?? []).map((a) => amps(a)).join(", ");
      return this.cable.circuits.length > 1 ? `${name} ${poles}` : poles;
    });
    const neutral = this.cable.multiwire && of_neutral.get(this.cable.multiwire);
    if (neutral) figures.push(`neutral ${amps(neutral.amps)}`);
    write(this.#figures, figures.join(" · "));
  }
  seek(text) {
    const found = this.rows.filter((row) => row.seek(text)).length;
    this.root.hidden = found === 0;
    return found;
  }
}

export class Loads {
  #made = "";
  #rows = new Map();
  #cables = [];
  #set;
  #end = 0;
  #list = h("div.w-cables");
  #key = h("div");
  #found = h("span.note", { "aria-live": "polite" });
  #search = h("input", {
    type: "search",
    id: "watch-search",
    autocomplete: "off",
    oninput: () => this.#seek(),
  });
  #outlets = new EmptyOutlets();
  root = h(
    "section.w-loads",
    { "aria-labelledby": "watch-loads" },
    h(
      "div.w-bar-of",
      null,
      h("h3", { id: "watch-loads" }, "Loads"),
      h("label", null, "Look for ", this.#search),
      this.#found,
    ),
    this.#key,
    this.#list,
    this.#outlets.root,
  );

  // set(names, on): a person switches these.
  constructor(set) {
    this.#set = set;
  }

  house(app) {
    const { house, loads, circuits, legs } = app.house;
    const free_of_state = house.load.map(({ on, ...entry }) => entry);
    const made = JSON.stringify([free_of_state, loads, circuits, legs]);
    this.#outlets.house(app);
    if (made === this.#made) return;
    this.#made = made;
    this.#end = 0;
    const focused = document.activeElement?.dataset.load;
    this.#make(app);
    if (focused) this.#rows.get(focused)?.knob.focus();
    this.#seek();
  }
  #make(app) {
    const derived = new Map(app.house.loads.map((load) => [load.load, load]));
    const flip = (row) => this.#flip([row], !row.on);
    this.#rows.clear();
    this.#cables = cables_of(app.house).map((cable) => {
      const rows = cable.loads.map((load) => new LoadRow(load, derived.get(load.name), flip));
      for (const row of rows) this.#rows.set(row.name, row);
      return new Cable(cable, app.house.house.panel.length > 1, rows, (all, on) => this.#flip(all, on));
    });
    fill(
      this.#list,
      halves(this.#cables).map((half) =>
        h(
          "div",
          null,
          half.map((cable) => cable.root),
        ),
      ),
    );
  }
  // The switch follows the finger; the figures follow the answer.
  #flip(rows, on) {
    for (const row of rows) row.on = on;
    this.#set(
      rows.map((row) => row.name),
      on,
    );
  }
  focus(name) {
    const row = this.#rows.get(name);
    const knob = row?.knob;
    if (row?.root.hidden) {
      this.#search.value = "";
      this.#seek();
    }
    knob?.scrollIntoView({ block: "center" });
    knob?.focus({ preventScroll: true });
  }

  show(answer, scale, app) {
    if (scale.end !== this.#end) fill(this.#key, ruler_key(scale.end));
    this.#end = scale.end;
    for (const load of answer.loads) this.#rows.get(load.load)?.show(load, scale.end, app.house.legs);
    const of_circuit = new Map(answer.circuits.map((one) => [one.circuit, one.amps]));
    const of_neutral = new Map(answer.neutrals.map((one) => [one.place, one]));
    for (const cable of this.#cables) cable.show(of_circuit, of_neutral);
    this.#outlets.show(answer, app);
  }
  #seek() {
    const text = this.#search.value.trim().toLowerCase();
    const found = this.#cables.map((cable) => cable.seek(text)).reduce((sum, n) => sum + n, 0);
    write(this.#found, text ? `${counted(found, "load")} found` : "");
  }
}
