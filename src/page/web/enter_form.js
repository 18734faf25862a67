// The form of one entry of the house, there already or to be added. What is typed in it outlives a
// change from elsewhere and a reload; only saving, discarding or closing it ends that.
import { h } from "./dom.js";
import { entry, is_single, record_of } from "./enter_find.js";
import { draft, keep_draft } from "./enter_drafts.js";
import { label_of, step_of, thing } from "./enter_labels.js";
import { FormFaults } from "./faults.js";

const same = (field, a, b) => (field.same ? field.same(a, b) : JSON.stringify(a) === JSON.stringify(b));

export class RecordForm {
  #app;
  #base = new Map(); // by field, what the house says
  #note = h("p.note.e-form-note", { role: "status" });
  #faults = new FormFaults();
  #saving = false;
  #discard;
  #submit;

  // name: of the entry; null to add one, which begins with `start`. main, more: fields.
  // start_name(): a free name where none is typed. fixed(): what an added entry has beside its
  // fields. also(form, name): further edits of the same step.
  // saved(name, form), closed(form): told. submit: the button's words. extra: elements after the fields.
  constructor(app, options) {
    this.#app = app;
    this.options = { more: [], start: {}, extra: [], submit: "Save", ...options };
    this.id = options.id;
    this.kind = options.kind;
    this.name = options.name ?? null;
    this.fields = [...this.options.main, ...this.options.more];
    this.#build();
    this.#begin();
  }

  get adds() {
    return this.name === null;
  }
  get gone() {
    return !this.adds && !is_single(this.kind) && !entry(this.#app, this.kind, this.name);
  }
  get record() {
    return (this.adds ? this.options.start : record_of(this.#app, this.kind, this.name)) ?? {};
  }
  get dirty() {
    return this.fields.some((field) => this.#is_dirty(field));
  }
  #is_dirty(field) {
    return !same(field, field.read(), this.#base.get(field));
  }
  field(key) {
    return this.fields.find((one) => one.keys.includes(key));
  }

  #build() {
    const { main, more, extra, submit, closed } = this.options;
    this.#submit = h("button.act", { type: "submit" }, submit);
    this.#discard = h(
      "button.quiet",
      { type: "button", "data-action": "discard", onclick: () => this.discard() },
      "Discard what is typed",
    );
    this.more =
      more.length > 0 &&
      h(
        "details.e-more",
        null,
        h("summary", null, "More"),
        h(
          "div.e-fields",
          null,
          more.map((field) => field.root),
        ),
      );
    this.root = h(
      "form.e-form",
      {
        "data-form": this.id,
        "data-kind": this.kind,
        autocomplete: "off",
        novalidate: true,
        onsubmit: (event) => this.#submitted(event),
        oninput: () => this.#typed(),
        onchange: () => this.#typed(),
        onkeydown: (event) => this.#key(event),
      },
      h(
        "div.e-fields",
        null,
        main.map((field) => field.root),
      ),
      extra,
      this.more,
      this.#faults.root,
      this.#note,
      h(
        "div.e-acts",
        null,
        this.#submit,
        this.#discard,
        closed &&
          h("button.quiet", { type: "button", "data-action": "close", onclick: () => this.close() }, "Close"),
      ),
    );
  }
  #begin() {
    const kept = draft(this.id);
    this.#show_base();
    if (kept) {
      for (const field of this.fields) if (field.keys[0] in kept) field.show(kept[field.keys[0]]);
      if (this.more && this.options.more.some((field) => field.keys[0] in kept)) this.more.open = true;
    }
    this.#tell();
  }
  #show_base() {
    const record = this.record;
    for (const field of this.fields) {
      field.refresh(this);
      field.show(field.of(record));
      this.#base.set(field, field.read());
    }
    this.options.shown?.(this);
  }

  #typed() {
    for (const field of this.fields) field.refresh(this);
    this.#faults.typed();
    const kept = {};
    for (const field of this.fields) if (this.#is_dirty(field)) kept[field.keys[0]] = field.read();
    keep_draft(this.id, Object.keys(kept).length > 0 ? kept : null);
    this.options.typed?.(this);
    this.#tell();
  }
  #tell(text = "") {
    const { dirty, gone } = this;
    this.#discard.hidden = !dirty;
    this.#submit.textContent = gone ? "Add it again" : this.options.submit;
    const lost =
      gone &&
      `The ${thing(this.kind, this.name)} is no longer in the house. ` +
        "What was typed is kept here until it is closed.";
    const say = lost || text || (dirty && !this.adds ? "Changed here, and not saved yet." : "");
    if (this.#note.textContent !== say) this.#note.textContent = say;
    this.root.classList.toggle("dirty", dirty && !this.adds);
  }

  // The house changed: what is typed stays, all else follows.
  house() {
    if (this.gone) return this.#tell();
    const record = this.record;
    const meanwhile = [];
    for (const field of this.fields) {
      const dirty = this.#is_dirty(field);
      const was = this.#base.get(field);
      const now = field.of(record);
      field.refresh(this);
      // Nothing is written into a field that need not be: a caret stays where it is.
      if (!dirty && !same(field, field.read(), now)) field.show(now);
      this.#base.set(field, dirty ? now : field.read());
      if (dirty && !same(field, was, now) && this.#is_dirty(field))
        meanwhile.push(label_of(this.kind, field.keys[0]));
    }
    this.options.shown?.(this);
    this.#tell(
      meanwhile.length > 0
        ? `Changed elsewhere meanwhile: ${meanwhile.join("; ")}. What is typed here is kept, not saved.`
        : "",
    );
  }

  // The edits that saving makes; [] where nothing differs.
  edits() {
    const record = this.gone ? {} : this.record;
    const adds = this.adds || this.gone;
    const change = { set: {}, clear: [] };
    for (const field of this.fields) {
      if (!adds && !this.#is_dirty(field)) continue;
      const { set, clear } = field.edits(field.read(), adds ? {} : record);
      Object.assign(change.set, set);
      if (!adds) change.clear.push(...clear);
    }
    const name = adds ? change.set.name || this.options.start_name?.(this) || this.name || "" : this.name;
    if (adds) delete change.set.name;
    if (this.adds) Object.assign(change.set, this.options.fixed?.());
    const further = this.options.also?.(this, name) ?? [];
    const nothing = Object.keys(change.set).length + change.clear.length === 0;
    if (!adds && nothing) return { name, all: further };
    const one = { verb: adds ? "add" : "set", kind: this.kind, name, ...change };
    return { name: change.set.name ?? name, all: [one, ...further] };
  }
  async #submitted(event) {
    event.preventDefault();
    if (!this.#saving) await this.save();
  }
  async save() {
    const adds = this.adds || this.gone;
    const { name, all } = this.edits();
    if (all.length === 0) return this.#app.say("Nothing was changed.");
    if (!name && !is_single(this.kind)) return this.#refuse("Give it a name.");
    const label = step_of(adds ? "Add" : "Change", this.kind, adds ? name : this.name);
    this.#saving = true;
    this.#faults.clear();
    let faults = null;
    const saved = await this.#app.edit(label, all, (told) => (faults = told));
    this.#saving = false;
    if (!saved) return this.#refused(faults);
    keep_draft(this.id, null);
    if (!this.adds) this.name = name || this.name;
    this.#forget();
    this.options.saved?.(name, this);
  }
  // What the program calls this entry, by its name before and by the one that is typed.
  #called() {
    if (is_single(this.kind)) return [this.kind === "transformer" ? "supply.transformer" : this.kind];
    const typed = this.field("name")?.read() || this.options.start_name?.(this);
    return [this.name, typed].filter(Boolean).map((name) => `${this.kind} "${name}"`);
  }
  #refused(faults) {
    if (!faults) return this.#refuse("Not saved: the program cannot be reached. What is typed is kept.");
    this.#tell("Not saved; what is typed is kept.");
    const first = this.#faults.show(faults, {
      entries: this.#called(),
      field: (key) => this.field(key),
      label: (key) => label_of(this.kind, key),
    });
    if (!first) return this.#faults.root.scrollIntoView({ block: "nearest" });
    this.focus(first.keys[0]);
  }
  #refuse(text) {
    this.#tell(text);
    this.#app.say(text);
  }

  discard() {
    this.#forget();
    this.#app.say("What was typed is discarded.");
    this.focus();
  }
  #forget() {
    keep_draft(this.id, null);
    this.#faults.clear();
    this.#show_base();
    this.#tell();
  }
  // What is typed waits until the form is opened again, unless there is no place for it any more.
  close() {
    if (this.gone) this.#forget();
    else if (this.dirty)
      this.#app.say("What was typed is kept until the form is opened again; it is not saved.");
    this.options.closed(this);
  }
  #key(event) {
    if (event.key !== "Escape" || !this.options.closed) return;
    event.preventDefault();
    event.stopPropagation();
    this.close();
  }

  // To the field of a key, "" the first.
  focus(key = "") {
    const field = (key && this.field(key)) || this.fields[0];
    if (this.options.more.includes(field)) this.more.open = true;
    field.focus();
    field.root.scrollIntoView({ block: "nearest" });
  }
}
