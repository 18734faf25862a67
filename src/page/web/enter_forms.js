// The forms that are open or half typed, each made once, so that drawing what stands around one
// never empties it.
import { renamed } from "./enter_state.js";

export class Forms {
  #all = new Map();

  // Undefined where there is none yet and nothing to make it with.
  get(id, make) {
    if (!this.#all.has(id) && make) this.#all.set(id, make(id));
    return this.#all.get(id);
  }
  has(id) {
    return this.#all.has(id);
  }
  drop(id) {
    this.#all.delete(id);
  }
  rename(all) {
    for (const { kind, from, to } of all) {
      for (const [id, form] of [...this.#all]) {
        const now = renamed(id, kind, from, to);
        if (form.kind === kind && form.name === from) form.name = to;
        if (now === id) continue;
        this.#all.delete(id);
        form.id = form.root.dataset.form = now;
        this.#all.set(now, form);
      }
    }
  }
  house() {
    for (const form of this.#all.values()) form.house();
  }
}
