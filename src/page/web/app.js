// The page as a whole: the house as the server has it, the parts, undo, and what is tried out.
import { get, post, listen, Refused } from "./api.js";
import { h, fill, counted } from "./dom.js";
import { fault_text } from "./faults.js";
import * as enter from "./enter.js";
import * as watch from "./watch.js";
import * as even from "./even.js";
import * as readings from "./readings.js";
import * as record from "./record.js";

const kViews = { enter, watch, even, readings, record };
const kSteps = 200; // of what was tried, kept for undo

// Tried out on this page alone; nothing of it is in the house file until someone says so.
// on: null as found, else the names of the loads that are on. place: the neutral at fault, or null.
// ohms: added there, null open. moves: [{circuit, space}] of a plan that is tried.
const kNothingTried = { on: null, scenario: null, place: null, ohms: null, moves: [] };

class App {
  house = null; // the answer of api/house
  words = null; // the answer of api/words
  audit = null; // the latest answer of api/audit
  trial = { ...kNothingTried };
  #steps = []; // what undo takes back, latest last: {trial} or {edit: true}
  #heard = new Map();
  #view = null;

  // ---- who hears of what: "house", "trial", "audit" ----
  on(name, call) {
    if (!this.#heard.has(name)) this.#heard.set(name, new Set());
    this.#heard.get(name).add(call);
    return () => this.#heard.get(name).delete(call);
  }
  #tell(name) {
    for (const call of this.#heard.get(name) ?? []) call();
  }

  // ---- the house ----
  take(house) {
    if (this.house && house.revision < this.house.revision) return; // an older answer, come late
    this.house = house;
    const loads = new Set(house.house.load.map((l) => l.name));
    if (this.trial.on) this.trial.on = this.trial.on.filter((name) => loads.has(name));
    const circuits = new Set(house.house.circuit.map((c) => c.name));
    this.trial.moves = this.trial.moves.filter((move) => circuits.has(move.circuit));
    const places = new Set((house.places ?? []).map((p) => p.place));
    if (house.ready && this.trial.place && !places.has(this.trial.place)) this.trial.place = null;
    this.#head();
    this.#tell("house");
  }

  // Several changes as one step, all or none. True where they were made; else `refused` is told the
  // faults, or the reason is shown at the top where nobody is to be told.
  // What is told by its number, "#2", is meant in the house as this page has it.
  async edit(label, edits, refused = null) {
    const numbered = edits.some((one) => one.name?.startsWith("#"));
    const revision = numbered ? this.house.revision : undefined;
    return this.#change("api/edit", { label, edits, revision }, true, refused);
  }
  // Circuits in other spaces: [{circuit, space}], a plan's legs following.
  async move(label, moves) {
    return this.#change("api/moves", { label, moves }, true);
  }
  async #change(path, body, counts, refused = null) {
    try {
      this.take(await post(path, body));
      if (counts) this.#remember({ edit: true });
      this.trouble();
      if (body.label) this.say(`${body.label}: saved.`);
      return true;
    } catch (reason) {
      const told = refused && reason instanceof Refused && reason.status > 0;
      if (!told) this.refused(reason);
      else {
        this.trouble(); // of an earlier edit
        refused(reason.faults);
      }
      return false;
    }
  }

  // ---- what is tried ----
  try_out(change, { remember = true } = {}) {
    if (remember) this.#remember({ trial: { ...this.trial } });
    Object.assign(this.trial, change);
    sessionStorage.setItem("trial", JSON.stringify(this.trial));
    this.#head();
    this.#tell("trial");
  }
  get tries_something() {
    return JSON.stringify(this.trial) !== JSON.stringify(kNothingTried);
  }
  try_nothing() {
    if (this.tries_something) this.try_out({ ...kNothingTried, moves: [] });
  }

  // ---- undo ----
  #remember(step) {
    this.#steps.push(step);
    if (this.#steps.length > kSteps) this.#steps.shift();
  }
  async undo() {
    const step = this.#steps.pop();
    if (step?.trial) {
      this.try_out(step.trial, { remember: false });
      return this.say("What was tried last is taken back.");
    }
    if (!this.house?.undo) return this.say("There is nothing to take back.");
    const what = this.house.undo;
    if (await this.#change("api/undo", {}, false)) this.say(`Taken back: ${what}.`);
  }
  async redo() {
    if (!this.house?.redo) return this.say("There is nothing to do again.");
    const what = this.house.redo;
    if (await this.#change("api/redo", {}, true)) this.say(`Done again: ${what}.`);
  }
  async undo_all() {
    this.#steps = [];
    this.try_nothing();
    this.#steps = [];
    const steps = this.house?.undo_steps ?? 0;
    if (steps === 0) return this.say("There is nothing to take back.");
    if (await this.#change("api/undo", { all: true }, false)) {
      this.say(`${counted(steps, "step")} taken back; redo does them again.`);
    }
  }

  // ---- words to the person ----
  say(text) {
    document.getElementById("said").textContent = text;
  }
  // Nothing given: no trouble any more.
  trouble(faults = []) {
    fill(
      document.getElementById("trouble"),
      faults.length > 0 && [
        h("ul", null, faults.map((f) => h("li", null, h("b", null, f.where), `: ${fault_text(f)}`))),
        h("button.quiet", { type: "button", onclick: () => this.trouble() }, "Put away"),
      ],
    );
  }
  refused(reason) {
    if (!(reason instanceof Refused)) throw reason;
    this.trouble(reason.faults);
  }

  // ---- the page ----
  go(view, focus) {
    location.hash = focus ? `${view}/${encodeURIComponent(focus)}` : view;
  }
  // What stands behind the view's name in the address, as a circuit's name.
  get focus() {
    return decodeURIComponent(location.hash.slice(1).split("/")[1] ?? "");
  }
  #show() {
    const name = location.hash.slice(1).split("/")[0];
    const key = name in kViews ? name : this.house.ready && this.house.house.load.length > 0 ? "watch" : "enter";
    if (this.#view?.key !== key) {
      this.#view?.leave?.();
      const root = fill(document.getElementById("view"));
      root.dataset.view = key;
      this.#view = { key, leave: kViews[key].mount(root, this) };
    } else {
      this.#tell("focus");
    }
    this.#head();
  }
  #head() {
    if (!this.house) return;
    const name = this.house.house.house.name || "A house without a name";
    document.title = `${name} · evenleg`;
    document.getElementById("house-name").textContent = name;
    document.getElementById("house-file").textContent = this.house.file;
    fill(
      document.getElementById("views"),
      Object.entries(kViews).map(([key, view]) =>
        h("a", { href: `#${key}`, "aria-current": this.#view?.key === key ? "page" : null }, view.title),
      ),
    );
    const can_undo = this.house.undo || this.#steps.some((s) => s.trial);
    const focused = document.activeElement?.id;
    fill(
      document.getElementById("tools"),
      h("button", { type: "button", id: "undo", disabled: !can_undo, title: this.house.undo ?? "", onclick: () => this.undo() }, "Undo"),
      h("button", { type: "button", id: "redo", disabled: !this.house.redo, title: this.house.redo ?? "", onclick: () => this.redo() }, "Redo"),
      h("button", { type: "button", id: "undo-all", disabled: !can_undo, onclick: () => this.undo_all() }, "Undo all"),
    );
    if (focused && document.activeElement?.id !== focused) document.getElementById(focused)?.focus();
  }

  async #hear_audit() {
    try {
      this.audit = await get("api/audit");
      this.#tell("audit");
    } catch (reason) {
      this.refused(reason);
    }
  }

  async start() {
    try {
      this.words = await get("api/words");
      this.take(await get("api/house"));
    } catch (reason) {
      return this.refused(reason);
    }
    const kept = sessionStorage.getItem("trial");
    if (kept) Object.assign(this.trial, JSON.parse(kept));
    this.take(this.house);
    addEventListener("hashchange", () => this.#show());
    addEventListener("keydown", (event) => this.#key(event));
    this.#show();
    let lost = false;
    const follow = () => listen(
      (name, data) => {
        if (name === "audit") this.#hear_audit();
        else if (data.revision !== this.house.revision) get("api/house").then((h) => this.take(h), (r) => this.refused(r));
      },
      (there) => {
        document.body.classList.toggle("lost", !there);
        if (!there && !lost) {
          this.trouble([{ where: "evenleg", what: "the program cannot be reached",
            remedy: "what was entered before is in the house file; start `evenleg open` again and use the address that it prints" }]);
        } else if (there && lost) {
          this.trouble();
          get("api/house").then((h) => this.take(h), (r) => this.refused(r));
        }
        lost = !there;
      },
    );
    // A browser keeps few connections to one server: a window that nobody sees gives its own back.
    let source = follow();
    document.addEventListener("visibilitychange", () => {
      source.close();
      if (document.hidden) return;
      source = follow();
      get("api/house").then((h) => this.take(h), (r) => this.refused(r));
      this.#hear_audit();
    });
    this.#hear_audit();
  }

  #key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    if (event.target.closest?.("input, textarea, select")) return; // their own undo
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) this.undo();
    else if (key === "y" || (key === "z" && event.shiftKey)) this.redo();
    else return;
    event.preventDefault();
  }
}

new App().start();
