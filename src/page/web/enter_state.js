// What is open in this view: what is chosen on a face, which forms stand open. Kept over a reload.
import { names } from "./enter_find.js";
import { rename_draft, draft_ids } from "./enter_drafts.js";

const kStore = "enter-open";
const kKinds = ["panel", "circuit", "multiwire", "outlet", "load", "scenario"];

// Entries that have another name now, whoever renamed them: [{kind, from, to}].
function renames(before, app) {
  const found = [];
  for (const kind of kKinds) {
    const now = names(app, kind);
    const was = before[kind];
    if (was.length !== now.length) continue;
    was.forEach((name, i) => {
      if (name !== now[i] && !now.includes(name) && !was.includes(now[i]))
        found.push({ kind, from: name, to: now[i] });
    });
  }
  return found;
}

export class State {
  #app;
  #names = {};
  chosen = null; // {kind: "circuit"|"multiwire"|"panel", name} or {kind: "circuit", name: null, panel, space}
  open = []; // ids of forms within what is chosen
  facts = []; // folds and forms that stand open among the house's facts

  constructor(app) {
    this.#app = app;
    const kept = JSON.parse(sessionStorage.getItem(kStore) ?? "{}");
    this.chosen = kept.chosen ?? null;
    this.open = kept.open ?? [];
    this.facts = kept.facts ?? [];
    this.#note();
  }
  #note() {
    this.#names = Object.fromEntries(kKinds.map((kind) => [kind, names(this.#app, kind)]));
  }
  #keep() {
    sessionStorage.setItem(
      kStore,
      JSON.stringify({ chosen: this.chosen, open: this.open, facts: this.facts }),
    );
  }
  choose(chosen) {
    this.chosen = chosen;
    this.open = [];
    this.#keep();
  }
  set_open(id, is) {
    this.open = this.open.filter((one) => one !== id);
    if (is) this.open.push(id);
    this.#keep();
  }
  is_open(id) {
    return this.open.includes(id);
  }
  set_fact(id, is) {
    this.facts = this.facts.filter((one) => one !== id);
    if (is) this.facts.push(id);
    this.#keep();
  }
  fact_is_open(id) {
    return this.facts.includes(id);
  }

  // After a change of the house: names followed here and in drafts; gives what was renamed.
  follow() {
    const all = renames(this.#names, this.#app);
    this.#note();
    for (const { kind, from, to } of all) {
      if (this.chosen?.kind === kind && this.chosen.name === from) this.chosen.name = to;
      if (this.chosen && kind === "panel" && this.chosen.panel === from) this.chosen.panel = to;
      this.open = this.open.map((id) => renamed(id, kind, from, to));
      this.facts = this.facts.map((id) => renamed(id, kind, from, to));
      for (const id of draft_ids()) rename_draft(id, renamed(id, kind, from, to));
    }
    if (all.length > 0) this.#keep();
    return all;
  }
}

// What the name in a form's id is the name of, where the form adds something to it.
const kAddsTo = {
  "new-outlet": ["circuit", "multiwire"],
  "new-outlet-after": ["outlet"],
  "new-load": ["outlet"],
  "new-load-on": ["circuit"],
};

// The id once that entry is renamed: "load:Kettle", "new-load:Basin".
export function renamed(id, kind, from, to) {
  const [what, ...rest] = id.split(":");
  if (rest.join(":") !== from || !(kAddsTo[what] ?? [what]).includes(kind)) return id;
  return `${what}:${to}`;
}
