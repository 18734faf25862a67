// All readings, or all findings: one entry for each of the house's, and one to add. What is typed and not
// saved is kept in this window over a reload, and follows its entry when others are added or removed.
import { h, fill } from "./dom.js";
import { Entry } from "./readings_entry.js";

const read_drafts = (kind) => JSON.parse(sessionStorage.getItem(`draft-${kind}`) ?? "[]");

export class Entries {
  #app;
  #options;
  entries = []; // as in the house, then what the house no longer has
  adding;
  list = h("div.r-entries");

  // options: as an Entry's.
  constructor(app, options) {
    this.#app = app;
    this.#options = {
      ...options,
      kept: () => this.#keep(),
      along: (entry, event) => this.#along(entry, event),
    };
    this.adding = this.#made(null, null);
    this.#follow();
    this.#restore();
  }
  #made(number, record) {
    return new Entry(this.#app, this.#options, number, record);
  }
  get all() {
    return [...this.entries, this.adding];
  }

  house() {
    this.#follow();
    this.adding.take(null, null);
    this.#keep();
  }
  // Each of the house's entries has the one that showed it before: the same values, else the same number.
  #follow() {
    const records = this.#app.house.house[this.#options.kind] ?? [];
    const before = new Set(this.entries);
    const take = (test) => {
      const found = [...before].find(test);
      if (found) before.delete(found);
      return found;
    };
    const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
    const by_place = records.map((record, i) =>
      take((one) => one.number === i + 1 && same(one.record, record)),
    );
    const by_value = records.map((record, i) => by_place[i] ?? take((one) => same(one.record, record)));
    const followed = records.map((record, i) => by_value[i] ?? take((one) => one.number === i + 1));
    this.entries = records.map((record, i) => {
      const entry = followed[i] ?? this.#made(i + 1, record);
      entry.take(i + 1, record);
      return entry;
    });
    const orphans = [...before].filter((one) => one.dirty).map((one) => this.#orphan(one));
    this.entries.push(...orphans);
    this.#lay();
  }
  // The house no longer has it: what stands in it, typed or not, is kept to be added again.
  #orphan(entry) {
    if (entry.adds) return entry;
    const made = this.#made(null, null);
    made.retype(Object.fromEntries(entry.fields.map((field) => [field.key, field.read()])));
    return made;
  }
  // Without touching those that stand already, so that the focus and what is typed stay.
  #lay() {
    const wanted = this.all.map((one) => one.root);
    for (const child of [...this.list.children]) if (!wanted.includes(child)) child.remove();
    wanted.forEach((root, i) => {
      if (this.list.children[i] !== root) this.list.insertBefore(root, this.list.children[i] ?? null);
    });
  }

  #keep() {
    const drafts = this.all
      .filter((one) => one.dirty)
      .map((one) => ({
        number: one.number,
        adding: one === this.adding,
        record: one.record,
        typed: one.typed(),
      }));
    sessionStorage.setItem(`draft-${this.#options.kind}`, JSON.stringify(drafts));
  }
  #restore() {
    for (const draft of read_drafts(this.#options.kind)) {
      const record = JSON.stringify(draft.record);
      const found = draft.adding
        ? this.adding
        : (this.entries.find((one) => one.number === draft.number && JSON.stringify(one.record) === record) ??
          this.entries.find((one) => draft.record && JSON.stringify(one.record) === record));
      const entry = found ?? this.#made(null, null);
      if (!found) {
        this.entries.push(entry);
        entry.retype(draft.record ?? {});
      }
      entry.retype(draft.typed);
    }
    this.#lay();
  }

  async remove(entry) {
    if (entry.adds) {
      entry.discard();
      if (entry !== this.adding) this.entries = this.entries.filter((one) => one !== entry);
      this.#lay();
      return;
    }
    const { kind, thing } = this.#options;
    const at = this.entries.indexOf(entry);
    entry.discard();
    if (
      !(await this.#app.edit(`Remove ${thing} ${entry.number}`, [
        { verb: "remove", kind, name: `#${entry.number}` },
      ]))
    )
      return;
    (this.all[at] ?? this.adding).fields[0].control.focus();
  }

  // ---- from cell to cell ----
  #along(entry, event) {
    const { key, target } = event;
    if (event.ctrlKey || event.metaKey || event.altKey || !("key" in target.dataset)) return;
    if (key === "Enter" && target.localName === "input") {
      event.preventDefault();
      this.#enter(entry, target.dataset.key);
    } else if ((key === "ArrowDown" || key === "ArrowUp") && target.type === "text") {
      event.preventDefault();
      this.#to(entry, key === "ArrowDown" ? 1 : -1, target.dataset.key);
    } else if ((key === "ArrowLeft" || key === "ArrowRight") && target.type === "text") {
      this.#beside(entry, event);
    }
  }
  async #enter(entry, key) {
    const adds = entry === this.adding;
    if (!(await entry.save())) return;
    if (adds) this.adding.fields[0].control.focus();
    else this.#to(entry, 1, key);
  }
  #to(entry, by, key) {
    const { all } = this;
    all[all.indexOf(entry) + by]?.field(key).control.focus();
  }
  // Past the end of what stands in a cell.
  #beside(entry, event) {
    const { target, key } = event;
    const end = key === "ArrowRight" ? target.value.length : 0;
    if (target.selectionStart !== end || target.selectionEnd !== end) return;
    const stops = entry.fields.map((field) => field.control).filter((one) => one.offsetParent);
    const next = stops[stops.indexOf(target) + (key === "ArrowRight" ? 1 : -1)];
    if (!next) return;
    event.preventDefault();
    next.focus();
  }
}
