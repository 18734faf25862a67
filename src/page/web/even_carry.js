// A circuit carried to another space: dragged by a pointer, or chosen with Enter or a tap and dropped with
// the next. What it would do is asked for while a space is pointed at.
import { h } from "./dom.js";

const kDead = 8; // pixels: less is a tap
const kHold = 300; // milliseconds a finger rests before it lifts a circuit; else it scrolls
const kEdge = 64; // pixels from the window's edge where dragging scrolls
const kScroll = 12;
const kRest = 60; // milliseconds on a space before it is asked about

// "2", "2 and 4", "2, 4 and 6".
const and_list = (all) =>
  all.length < 2 ? all.join("") : `${all.slice(0, -1).join(", ")} and ${all.at(-1)}`;

export class Carry {
  #app;
  #trying;
  #marked;
  #ghost = h("div.ev-ghost", { hidden: true, "aria-hidden": "true" });
  #words = h("p");
  #press = null; // a press that may become a drag
  #hold = 0;
  #rest = 0;
  #frame = 0;
  #dragged = false; // the click after a drag is none
  carried = null; // {circuit, pole, by: "keys"|"pointer", target: {panel, first, spaces}|null}
  banner = h(
    "div.ev-banner",
    { hidden: true },
    this.#words,
    h(
      "button",
      { type: "button", "data-action": "leave-move", onclick: () => this.put_back() },
      "Leave it where it is",
    ),
  );

  constructor(app, trying, marked) {
    this.#app = app;
    this.#trying = trying;
    this.#marked = marked;
    document.body.append(this.#ghost);
  }
  leave() {
    this.#end();
    this.#ghost.remove();
  }

  #begin(button, by) {
    const { circuit, pole } = button.dataset;
    this.carried = { circuit, pole: Number(pole), by, target: null };
    this.#tell();
  }
  // The spaces of the circuit with the grabbed pole on this one.
  #over(button) {
    const { circuit, pole, target } = this.carried;
    const { panel } = button.dataset;
    const space = Number(button.dataset.space);
    const { poles } = this.#app.house.house.circuit.find((one) => one.name === circuit);
    const first = space - 2 * (pole - 1);
    if (target?.panel === panel && target.first === first) return;
    this.carried.target = { panel, first, spaces: Array.from({ length: poles }, (_, i) => first + 2 * i) };
    this.#tell();
    clearTimeout(this.#rest);
    this.#rest = setTimeout(
      () => this.#trying.suppose(first >= 1 ? { circuit, space: first, panel } : null),
      kRest,
    );
  }
  over_by_keys(button) {
    if (this.carried?.by === "keys") this.#over(button);
  }
  #tell() {
    const { circuit, target } = this.carried;
    const text = target
      ? `${circuit} to space ${and_list(target.spaces)} of ${target.panel}`
      : `${circuit}: choose a space`;
    this.#ghost.textContent = this.#words.textContent = text;
    this.banner.hidden = this.carried.by !== "keys";
    this.#marked();
  }
  #end() {
    clearTimeout(this.#hold);
    clearTimeout(this.#rest);
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#press = this.carried = null;
    this.#ghost.hidden = this.banner.hidden = true;
    document.body.classList.remove("ev-dragging");
    this.#marked();
  }
  put_back() {
    const { circuit } = this.carried;
    this.#end();
    this.#trying.suppose(null);
    this.#app.say(`${circuit} stays where it was.`);
  }
  async #drop(button) {
    this.#over(button);
    const { circuit, target } = this.carried;
    this.#end();
    const made = await this.#trying.add({ circuit, space: target.first, panel: target.panel });
    if (made === "same") this.#app.say(`${circuit} stays where it was.`);
    if (made === "tried")
      this.#app.say(`${circuit} is tried in space ${and_list(target.spaces)} of ${target.panel}.`);
  }

  // ---- listening ----
  watch(root) {
    root.addEventListener("pointerdown", (event) => this.#down(event));
    root.addEventListener("pointermove", (event) => this.#moved(event));
    root.addEventListener("pointerup", (event) => this.#up(event));
    root.addEventListener("pointercancel", () => this.#press && this.#cancel());
    root.addEventListener("pointerover", (event) => this.#pointed(event));
    root.addEventListener("click", (event) => this.#click(event));
    root.addEventListener("keydown", (event) => this.#key(event));
    // A finger that carries a circuit does not scroll.
    root.addEventListener("touchmove", (event) => this.#drags && event.preventDefault(), { passive: false });
    root.addEventListener("contextmenu", (event) => this.#press?.touch && event.preventDefault());
    root.addEventListener("dragstart", (event) => event.preventDefault());
  }
  get #drags() {
    return this.carried?.by === "pointer";
  }
  #key(event) {
    if (event.key !== "Escape" || !this.carried) return;
    event.preventDefault();
    this.put_back();
  }
  // Enter and Space click as a tap does.
  #click(event) {
    const button = event.target.closest("[data-space]");
    if (!button || this.#dragged) return;
    if (this.carried) return this.#drop(button);
    if (!button.dataset.circuit) return;
    this.#begin(button, "keys");
    this.#app.say(
      `${button.dataset.circuit} is chosen: choose a space with the arrow keys and press Enter, or tap one.`,
    );
  }
  // A mouse over the face shows what the next click would do.
  #pointed(event) {
    const button = event.pointerType === "mouse" && event.target.closest("[data-space]");
    if (button) this.over_by_keys(button);
  }
  #cancel() {
    if (this.#drags) return this.put_back();
    clearTimeout(this.#hold);
    this.#press = null;
  }
  #down(event) {
    const button = event.target.closest("[data-circuit]");
    if (!button || event.button !== 0 || !event.isPrimary || this.carried) return;
    const touch = event.pointerType === "touch";
    this.#press = { button, id: event.pointerId, x: event.clientX, y: event.clientY, touch };
    if (touch) this.#hold = setTimeout(() => this.#lift(), kHold);
  }
  #lift() {
    const { button, id, x, y } = this.#press;
    clearTimeout(this.#hold);
    button.closest("[data-drag-root]").setPointerCapture(id);
    document.body.classList.add("ev-dragging");
    this.#ghost.hidden = false;
    this.#begin(button, "pointer");
    this.#at(x, y);
  }
  #moved(event) {
    const press = this.#press;
    if (!press || event.pointerId !== press.id) return;
    if (!this.carried) {
      const across = Math.abs(event.clientX - press.x);
      const along = Math.abs(event.clientY - press.y);
      if (across + along < kDead) return;
      if (press.touch && along >= across) return this.#cancel(); // it means to scroll
      this.#lift();
    }
    this.#at(event.clientX, event.clientY);
  }
  #at(x, y) {
    Object.assign(this.#press, { x, y });
    const left = Math.max(4, Math.min(x + 12, innerWidth - this.#ghost.offsetWidth - 4));
    this.#ghost.style.transform = `translate(${left}px, ${Math.max(4, y - this.#ghost.offsetHeight - 14)}px)`;
    const button = document.elementFromPoint(x, y)?.closest("[data-space]");
    if (button) this.#over(button);
    if (!this.#frame) this.#frame = requestAnimationFrame(() => this.#scroll());
  }
  #scroll() {
    this.#frame = 0;
    if (!this.#drags) return;
    const { x, y } = this.#press;
    const step = y < kEdge ? -kScroll : y > innerHeight - kEdge ? kScroll : 0;
    if (step === 0) return;
    scrollBy(0, step);
    this.#at(x, y);
  }
  #up(event) {
    const press = this.#press;
    if (!press || event.pointerId !== press.id) return;
    if (!this.#drags) return this.#cancel();
    this.#dragged = true;
    setTimeout(() => (this.#dragged = false));
    const button = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-space]");
    if (button) this.#drop(button);
    else this.put_back();
  }
}
