// House: the house is entered on its panels' faces. Everything that is typed becomes one edit of
// the house file; nothing is worked out here.
import { h, fill } from "./dom.js";
import { entry, known } from "./enter_find.js";
import { State } from "./enter_state.js";
import { Forms } from "./enter_forms.js";
import { Face } from "./enter_face.js";
import { Moves } from "./enter_move.js";
import { Editor } from "./enter_editor.js";
import { Missing } from "./enter_missing.js";
import { Facts } from "./enter_facts.js";
import { Schedule } from "./enter_schedule.js";
import { thing } from "./enter_labels.js";
import { draft } from "./enter_drafts.js";
import { go_to, to_focus } from "./enter_goto.js";
import { remove } from "./enter_remove.js";
import { keeping_focus, show_focused } from "./enter_focus.js";

export const title = "House";

class House {
  forms = new Forms();
  faces = new Map();
  renamed = [];
  #made_faces = "";
  #faces_root = h("div.e-faces");
  root = h("div.e-view");

  constructor(app) {
    this.app = app;
    this.state = new State(app);
    this.moves = new Moves(app, { marked: () => this.#mark(), left: (circuit) => this.stand_on(circuit) });
    this.editor = new Editor(this);
    this.missing = new Missing(app, (row) => go_to(this, row));
    this.schedule = new Schedule(app);
    this.facts = new Facts(this);
    this.#faces_root.dataset.dragRoot = "";
    this.moves.watch(this.#faces_root);
    const conductors = h(
      "datalist",
      { id: "e-conductors" },
      app.words.conductors.map((value) => h("option", { value })),
    );
    const to_facts = h(
      "button",
      { type: "button", "data-action": "facts", onclick: () => this.facts.focus("house", "name") },
      "House facts",
    );
    fill(
      this.root,
      h("div.e-top", null, h("h2", null, title), this.schedule.button, to_facts, this.missing.brief),
      this.schedule.root,
      this.moves.banner,
      conductors,
      h(
        "div.e-main",
        null,
        this.#faces_root,
        h("div.e-side", null, this.editor.side, this.missing.root),
        this.facts.root,
      ),
    );
  }

  house() {
    this.renamed = this.state.follow();
    this.forms.rename(this.renamed);
    this.#lay_faces();
    for (const face of this.app.house.panels) this.faces.get(face.panel).house(face);
    this.forms.house();
    this.#let_go();
    this.draw();
    this.missing.house();
    this.schedule.house();
  }
  #lay_faces() {
    const panels = this.app.house.panels.map((one) => one.panel);
    if (JSON.stringify(panels) === this.#made_faces) return;
    this.#made_faces = JSON.stringify(panels);
    const calls = {
      press: (button) => this.#press(button),
      panel: (name) => this.choose({ kind: "panel", name }, true),
      key: (event, button) => this.#key(event, button),
      over: (button) => this.moves.over(button),
    };
    const was = this.faces;
    this.faces = new Map(panels.map((name) => [name, was.get(name) ?? new Face(this.app, name, calls)]));
    keeping_focus(this.root, () =>
      fill(
        this.#faces_root,
        [...this.faces.values()].map((face) => face.root),
      ),
    );
  }
  draw() {
    this.editor.draw();
    this.facts.draw();
    this.#mark();
  }
  #mark() {
    const { chosen } = this.state;
    this.root.classList.toggle("e-carrying", this.moves.carried?.by === "keys");
    const circuits =
      chosen?.kind === "multiwire" ? entry(this.app, "multiwire", chosen.name)?.circuits : undefined;
    for (const face of this.faces.values())
      face.mark(chosen && { ...chosen, circuits }, this.moves.carried?.target);
  }

  // What stood open before a reload, unless something is typed in it.
  forget_what_is_gone() {
    const { chosen } = this.state;
    if (!chosen?.name || entry(this.app, chosen.kind, chosen.name) || draft(`${chosen.kind}:${chosen.name}`))
      return;
    this.state.choose(null);
  }

  // What is chosen was removed elsewhere, or its adding taken back, and nothing is typed in it.
  #let_go() {
    const { chosen } = this.state;
    if (!chosen?.name || entry(this.app, chosen.kind, chosen.name)) return;
    if (this.forms.get(`${chosen.kind}:${chosen.name}`)?.dirty) return;
    const within = this.editor.root.contains(document.activeElement);
    this.state.choose(null);
    this.app.say(`The ${thing(chosen.kind, chosen.name)} is no longer in the house.`);
    if (within) show_focused(this.root.querySelector('[data-space][tabindex="0"]'));
  }

  // ---- what is chosen ----
  choose(chosen, focus = false) {
    this.state.choose(chosen);
    this.draw();
    if (focus) this.editor.focus();
    this.editor.show();
  }
  #press(button) {
    const { circuit, feeds, panel, space } = button.dataset;
    if (this.moves.carried && space) return this.moves.drop(button);
    if (circuit) this.choose({ kind: "circuit", name: circuit }, true);
    else if (feeds) this.choose({ kind: "panel", name: feeds }, true);
    else this.choose({ kind: "circuit", name: null, panel, space: Number(space) }, true);
  }
  // True where the key was meant for the space.
  #key(event, button) {
    const { circuit } = button.dataset;
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    if (this.moves.carried && event.key === "Enter") this.moves.drop(button);
    else if (this.moves.carried && event.key === "Escape") this.moves.put_back();
    else if (event.key.toLowerCase() === "m" && circuit && !this.moves.carried) this.carry(circuit);
    else if (event.key === "Delete" && circuit && !this.moves.carried) this.remove("circuit", circuit);
    else if (event.key === "Escape" && this.state.chosen) this.leave_page();
    else return false;
    return true;
  }
  carry(circuit) {
    this.moves.carry(circuit);
    if (entry(this.app, "circuit", circuit).space) return this.stand_on(circuit);
    const face = this.faces.get(known(this.app, circuit).panel);
    show_focused(face.root.querySelector('[data-space][tabindex="0"]'));
  }
  leave_page() {
    const { chosen } = this.state;
    this.choose(null);
    if (chosen?.space) show_focused(this.faces.get(chosen.panel)?.button(chosen.space));
    else if (chosen?.kind === "circuit") this.stand_on(chosen.name);
    else if (chosen?.kind === "multiwire")
      this.stand_on(entry(this.app, "multiwire", chosen.name)?.circuits[0]);
    else this.stand_on_panel(chosen?.name);
  }
  // The focus on the space of a circuit.
  stand_on(circuit) {
    const found = this.root.querySelector(`[data-drag-root] [data-circuit="${CSS.escape(circuit ?? "")}"]`);
    show_focused(found);
  }
  stand_on_panel(name) {
    const face = this.faces.get(name) ?? this.faces.values().next().value;
    show_focused(face?.root.querySelector("[data-action=panel]"));
  }
  // A form for the next free space of the same column; false where there is none.
  next_free(panel, space) {
    const next = this.app.house.panels
      .find((one) => one.panel === panel)
      ?.spaces.find((one) => one.space > space && one.space % 2 === space % 2 && one.holds.length === 0);
    if (!next) return false;
    this.choose({ kind: "circuit", name: null, panel, space: next.space }, true);
    return true;
  }
  feed_panel(panel, space) {
    this.choose({ kind: "panel", name: null, panel, space }, true);
  }

  // ---- forms within what is chosen ----
  toggle_form(id) {
    const open = !this.state.is_open(id);
    this.state.set_open(id, open);
    this.draw();
    if (open) this.forms.get(id).focus();
  }
  close_form(id) {
    this.state.set_open(id, false);
    this.draw();
    this.#focus_key(id);
  }
  // A thing was added by this form; the next one may follow.
  added(id, thing) {
    this.forms.drop(id);
    this.state.set_open(id, false);
    this.draw();
    this.#focus_key(id);
    this.root.querySelector(`[data-open="${CSS.escape(thing)}"]`)?.scrollIntoView({ block: "nearest" });
  }
  #focus_key(key) {
    this.root.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
  }
  toggle_fact(id) {
    const open = !this.state.fact_is_open(id);
    this.state.set_fact(id, open);
    this.facts.draw();
    if (open) this.forms.get(id).focus();
    else this.#focus_key(id);
  }

  async remove(kind, name) {
    const had = kind === "circuit" ? known(this.app, name) : null;
    if (!(await remove(this.app, this.root, kind, name))) return;
    const id = `${kind}:${name}`;
    this.forms.drop(id);
    this.state.set_open(id, false);
    if (this.state.chosen?.kind === kind && this.state.chosen.name === name) this.choose(null);
    else this.draw();
    if (had) show_focused(this.faces.get(had.panel)?.root.querySelector('[data-space][tabindex="0"]'));
  }

  leave() {
    this.moves.leave();
    this.editor.leave();
    this.schedule.leave();
  }
}

// Puts the part into `root` and gives what takes it away again.
export function mount(root, app) {
  const house = new House(app);
  house.forget_what_is_gone();
  fill(root, house.root);
  house.house();
  to_focus(house);
  const off = [app.on("house", () => house.house()), app.on("focus", () => to_focus(house))];
  return () => {
    for (const one of off) one();
    house.leave();
  };
}
