// Circuits moved to other spaces: dragged by a pointer, or carried with the arrow keys.
import { h } from "./dom.js";
import { entry, known, space_of } from "./enter_find.js";

const kDead = 8; // pixels: less is a tap
const kHold = 300; // milliseconds a finger rests before it lifts a circuit; else it scrolls
const kEdge = 60; // pixels from the window's edge where dragging scrolls
const kScroll = 12;

export class Moves {
  #app;
  #calls;
  #ghost = h("div.e-ghost", { hidden: true, "aria-hidden": "true" });
  #pointer = null; // a press that may become a drag
  #timer = 0;
  #frame = 0;
  carried = null; // {circuit, pole, by: "keys"|"pointer", target}
  banner = h("div.e-banner", { hidden: true });

  // calls: {marked(), root}
  constructor(app, calls) {
    this.#app = app;
    this.#calls = calls;
    document.body.append(this.#ghost);
  }
  leave() {
    this.#forget();
    this.#ghost.remove();
  }

  // ---- where it would be ----
  // The spaces and legs with the grabbed pole on this one.
  #target(panel, space) {
    const { circuit, pole } = this.carried;
    const { poles } = entry(this.#app, "circuit", circuit);
    const first = space - 2 * (pole - 1);
    const spaces = Array.from({ length: poles }, (_, i) => first + 2 * i);
    const found = spaces.map((one) => space_of(this.#app, panel, one));
    const others = new Set(
      found.flatMap((one) => (one?.holds ?? []).map((seat) => seat.circuit ?? `feeder of ${seat.feeds}`)),
    );
    others.delete(circuit);
    return {
      panel,
      first,
      spaces,
      legs: found.map((one) => one?.leg),
      fits: found.every(Boolean),
      others: [...others],
    };
  }
  #sentence() {
    const { circuit, target } = this.carried;
    if (!target) return `${circuit}: choose a space.`;
    if (!target.fits) return `${circuit}: not enough spaces there.`;
    const legs = target.legs.filter(Boolean).join(" and ");
    const was = known(this.#app, circuit)?.legs.join(" and ");
    const change = !legs
      ? ""
      : legs === was
        ? `, stays on ${legs}`
        : `, would be on ${legs}${was ? ` (now ${was})` : ""}`;
    const swap = target.others.length > 0 ? `; changes places with ${target.others.join(", ")}` : "";
    return `${circuit} to space ${target.spaces.join(" and ")}${change}${swap}`;
  }
  over(button) {
    if (!this.carried || !button) return;
    this.carried.target = this.#target(button.dataset.panel, Number(button.dataset.space));
    this.#tell();
    if (this.carried.by === "keys") this.#app.say(this.#sentence());
  }
  #tell() {
    const text = this.#sentence();
    this.#ghost.textContent = text;
    if (this.banner.firstChild) this.banner.firstChild.textContent = text;
    this.#calls.marked();
  }

  // ---- by keys, or by one tap after another ----
  carry(circuit) {
    this.carried = { circuit, pole: 1, by: "keys", target: null };
    this.banner.replaceChildren(
      h("p"),
      h(
        "button",
        { type: "button", "data-action": "leave-move", onclick: () => this.put_back() },
        "Leave it where it is",
      ),
    );
    this.banner.hidden = false;
    this.#tell();
    this.#app.say(
      `Moving ${circuit}: arrow keys choose a space, Enter drops it there, Escape leaves it where it is.`,
    );
  }
  put_back() {
    const { circuit } = this.carried;
    this.#forget();
    this.#app.say(`${circuit} stays where it was.`);
    this.#calls.left(circuit);
  }
  #forget() {
    clearTimeout(this.#timer);
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#pointer = null;
    this.carried = null;
    this.#ghost.hidden = this.banner.hidden = true;
    document.body.classList.remove("e-dragging");
    this.#calls.marked();
  }
  // True where the move was made, or was none.
  async drop(button) {
    this.over(button);
    const { circuit, target } = this.carried;
    this.#forget();
    if (!target) return;
    const { space } = entry(this.#app, "circuit", circuit);
    const from = known(this.#app, circuit).panel;
    if (space === target.first && from === target.panel)
      return this.#app.say(`${circuit} stays where it was.`);
    const elsewhere = from !== target.panel && { panel: target.panel };
    const where = `space ${target.first}${elsewhere ? ` of ${target.panel}` : ""}`;
    const label = `Move circuit "${circuit}" to ${where}`;
    await this.#app.move(label, [{ circuit, space: target.first, ...elsewhere }]);
    this.#calls.left(circuit);
  }

  // ---- by pointer ----
  watch(root) {
    root.addEventListener("pointerdown", (event) => this.#down(event));
    root.addEventListener("pointermove", (event) => this.#moved(event));
    root.addEventListener("pointerup", (event) => this.#up(event));
    root.addEventListener("pointercancel", () => this.#pointer && this.#forget());
    // A finger's press is first held by what it is on: only the loss of our own hold ends a drag.
    root.addEventListener(
      "lostpointercapture",
      (event) => event.target === root && this.carried?.by === "pointer" && this.#forget(),
    );
    root.addEventListener("click", (event) => this.#click(event), { capture: true });
    // A finger that carries a circuit does not scroll.
    root.addEventListener("touchmove", (event) => this.carried?.by === "pointer" && event.preventDefault(), {
      passive: false,
    });
    root.addEventListener("contextmenu", (event) => this.#pointer?.touch && event.preventDefault());
    root.addEventListener("dragstart", (event) => event.preventDefault());
  }
  #down(event) {
    const button = event.target.closest("[data-circuit]");
    if (!button || event.button !== 0 || !event.isPrimary || this.carried) return;
    const touch = event.pointerType === "touch";
    this.#pointer = { button, id: event.pointerId, x: event.clientX, y: event.clientY, touch };
    if (touch) this.#timer = setTimeout(() => this.#lift(), kHold);
  }
  #lift() {
    const { button, id, x, y } = this.#pointer;
    clearTimeout(this.#timer);
    this.carried = {
      circuit: button.dataset.circuit,
      pole: Number(button.dataset.pole),
      by: "pointer",
      target: null,
    };
    button.closest("[data-drag-root]").setPointerCapture(id);
    document.body.classList.add("e-dragging");
    this.#ghost.hidden = false;
    this.#at(x, y);
    this.#tell();
  }
  #moved(event) {
    const press = this.#pointer;
    if (!press || event.pointerId !== press.id) return;
    if (!this.carried) {
      const across = Math.abs(event.clientX - press.x);
      const along = Math.abs(event.clientY - press.y);
      if (across + along < kDead) return;
      // A finger that goes up or down at once means to scroll.
      if (press.touch && along >= across) return this.#forget();
      this.#lift();
    }
    this.#at(event.clientX, event.clientY);
  }
  #at(x, y) {
    Object.assign(this.#pointer, { x, y });
    const left = Math.max(4, Math.min(x + 12, innerWidth - this.#ghost.offsetWidth - 4));
    this.#ghost.style.transform = `translate(${left}px, ${Math.max(4, y - this.#ghost.offsetHeight - 14)}px)`;
    const button = document.elementFromPoint(x, y)?.closest("[data-space]");
    if (button) this.over(button);
    if (!this.#frame) this.#frame = requestAnimationFrame(() => this.#scroll());
  }
  #scroll() {
    this.#frame = 0;
    if (this.carried?.by !== "pointer") return;
    const { x, y } = this.#pointer;
    const step = y < kEdge ? -kScroll : y > innerHeight - kEdge ? kScroll : 0;
    if (step === 0) return;
    scrollBy(0, step);
    this.#at(x, y);
  }
  #up(event) {
    const press = this.#pointer;
    if (!press || event.pointerId !== press.id) return;
    if (this.carried?.by !== "pointer") return this.#forget_press();
    this.#dragged = true;
    setTimeout(() => (this.#dragged = false));
    const button = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-space]");
    if (button) this.drop(button);
    else this.put_back();
  }
  #dragged = false; // the click after a drag is none
  #click(event) {
    if (!this.#dragged) return;
    event.stopPropagation();
    event.preventDefault();
  }
  #forget_press() {
    clearTimeout(this.#timer);
    this.#pointer = null;
  }
}
