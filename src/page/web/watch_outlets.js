// The volts at outlets that have no load: what a thing plugged in there would meet.
import { h, fill, volts, table_head } from "./dom.js";
import { write } from "./watch_ruler.js";

export class EmptyOutlets {
  #names = [];
  #cells = new Map(); // by outlet and pair
  #answer = null;
  #body = h("tbody");
  #title = h("summary");
  root = h(
    "details.w-outlets",
    { ontoggle: () => this.#put() },
    this.#title,
    h(
      "div.wide",
      null,
      h(
        "table",
        null,
        table_head([["Outlet"], ["On"], ["Between"], ["Volts", "number"]]),
        this.#body,
      ),
    ),
  );

  house(app) {
    const taken = new Set(app.house.house.load.map((load) => load.at));
    this.#names = app.house.outlets.filter((one) => !taken.has(one.outlet));
    this.root.hidden = this.#names.length === 0;
    write(this.#title, `Empty outlets (${this.#names.length})`);
    this.#cells.clear();
    fill(this.#body);
    this.#put();
  }
  show(answer) {
    this.#answer = answer;
    this.#put();
  }
  // Folded, it costs nothing.
  #put() {
    if (!this.root.open || !this.#answer) return;
    const seen = new Map(this.#answer.outlets.map((one) => [one.outlet, one.volts]));
    for (const one of this.#names) {
      (seen.get(one.outlet) ?? []).forEach((terminals, i) => this.#cell(one, i, terminals));
    }
  }
  #cell(one, i, terminals) {
    const key = `${one.outlet}\n${i}`;
    if (!this.#cells.has(key)) this.#cells.set(key, this.#row(one));
    const cell = this.#cells.get(key);
    write(cell.between, terminals.legs);
    write(cell.volts, volts(terminals.volts));
  }
  #row(one) {
    const cell = { between: h("td"), volts: h("td.number", { "data-outlet-volts": one.outlet }) };
    this.#body.append(
      h(
        "tr",
        null,
        h("th", { scope: "row" }, one.outlet),
        h("td", null, one.circuits.join(", ")),
        cell.between,
        cell.volts,
      ),
    );
    return cell;
  }
}
