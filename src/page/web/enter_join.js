// Two circuits joined to a multiwire circuit on one shared neutral.
import { h, fill } from "./dom.js";
import { entry, known, names, unique } from "./enter_find.js";
import { field_of } from "./enter_keys.js";
import { length_field } from "./enter_outlet_form.js";
import { RecordForm } from "./enter_form.js";
import { keeping_focus } from "./enter_focus.js";
import { leg_signs } from "./enter_labels.js";

// `there`: of one that is there already, whose circuits can be changed.
export const multiwire_fields = (app, there) => {
  const terse = (key) => field_of(app, "multiwire", key, { terse: true });
  const main = [...["name", "common_disconnect", "neutral_joint", "conductor"].map(terse), length_field(app)];
  const used = new Set([...main.flatMap((field) => field.keys), ...(there ? [] : ["circuits"])]);
  const more = app.words.keys.multiwire
    .map((one) => one.key)
    .filter((key) => !used.has(key))
    .map((key) => field_of(app, "multiwire", key));
  return { main, more };
};

// Legs that more than one of these circuits use.
export function same_legs(app, circuits) {
  const all = circuits.flatMap((name) => known(app, name)?.legs ?? []);
  return [...new Set(all.filter((leg, i) => all.indexOf(leg) !== i))];
}

export const sum_sentence = (legs) =>
  `Same leg, ${legs.join(" and ")}: the shared neutral would carry the sum of both currents.`;

const kRun = ["conductor", "length_ft", "length_m"];

// What the shared run could be taken from: the circuits' own runs, where they do not contradict.
function common_run(app, circuits) {
  const run = {};
  for (const name of circuits) {
    const circuit = entry(app, "circuit", name);
    if (circuit.hot_ohms !== undefined || circuit.neutral_ohms !== undefined) return {};
    for (const key of kRun) {
      if (circuit[key] === undefined) continue;
      if (key in run && run[key] !== circuit[key]) return {};
      run[key] = circuit[key];
    }
  }
  return "length_ft" in run && "length_m" in run ? {} : run;
}

// Open while state.open holds "join:", and "join:Attic" once the other circuit is chosen.
const kOpen = "join:";

export class Join {
  #view;
  #shown = null; // of whom the form is that is drawn
  root = h("section.e-join", { "aria-label": "Join with another circuit", hidden: true });
  constructor(view, name) {
    this.#view = view;
    this.name = name;
  }
  get #opened() {
    return this.#view.state.open.find((id) => id.startsWith(kOpen));
  }
  #set(other) {
    const { state } = this.#view;
    if (this.#opened !== undefined) state.set_open(this.#opened, false);
    if (other !== null) state.set_open(kOpen + other, true);
    this.draw();
  }
  toggle() {
    this.#set(this.#opened === undefined ? "" : null);
    this.root.querySelector("button:enabled")?.focus();
  }

  draw() {
    const { app } = this.#view;
    const other = this.#opened?.slice(kOpen.length);
    this.root.hidden = other === undefined;
    if (other && entry(app, "circuit", other)) {
      if (this.#shown !== other) this.#show_form(other);
      return;
    }
    this.#shown = null;
    if (other === undefined) {
      delete this.root.dataset.made;
      return fill(this.root);
    }
    const own = known(app, this.name);
    const others = this.#by_likelihood(own);
    const made = JSON.stringify([this.name, own, others]);
    if (made === this.root.dataset.made) return;
    this.root.dataset.made = made;
    keeping_focus(this.root, () =>
      fill(
        this.root,
        h("h4", null, `Join ${this.name} with`),
        others.length === 0 && h("p", null, "There is no other circuit in this panel yet."),
        h(
          "ul.e-partners",
          null,
          others.map((one) => this.#partner(own, one)),
        ),
      ),
    );
  }
  // Circuits of the same panel: those on other legs first, of these the nearest on the face.
  #by_likelihood(own) {
    const { app } = this.#view;
    const at = (name) => entry(app, "circuit", name).space ?? Infinity;
    const far = (one) => Math.abs(at(one.circuit) - at(this.name)) || 0;
    const shares = (one) => this.#shared_legs(own, one).length;
    return app.house.circuits
      .filter((one) => one.circuit !== this.name && one.panel === own.panel)
      .sort((a, b) => shares(a) - shares(b) || a.legs.length - b.legs.length || far(a) - far(b));
  }
  // Legs that two circuits of the multiwire would use, with all that are in it already.
  #shared_legs(own, one) {
    const { app } = this.#view;
    const all = [own, one].flatMap(
      ({ circuit, multiwire }) => entry(app, "multiwire", multiwire)?.circuits ?? [circuit],
    );
    return same_legs(app, [...new Set(all)]);
  }
  #partner(own, one) {
    const both = own.multiwire && one.multiwire;
    const same = this.#shared_legs(own, one);
    const reason =
      own.multiwire && own.multiwire === one.multiwire
        ? `both are in ${one.multiwire} already`
        : both
          ? `is in the multiwire ${one.multiwire}`
          : "";
    return h(
      "li",
      null,
      h(
        "button.e-partner",
        {
          type: "button",
          "data-partner": one.circuit,
          "data-key": `partner:${one.circuit}`,
          disabled: reason !== "",
          onclick: () => this.#choose(own, one),
        },
        h("b", null, one.circuit),
        " ",
        leg_signs(this.#view.app, one.legs),
        one.multiwire && !reason && h("span.note", null, `joins ${one.multiwire}`),
        reason && h("span.note", null, reason),
      ),
      same.length > 0 && h("p.over", null, sum_sentence(same)),
    );
  }
  // A circuit that is in a multiwire already takes the other one in.
  async #choose(own, one) {
    const into = own.multiwire ?? one.multiwire;
    if (!into) {
      this.#set(one.circuit);
      return this.root.querySelector("[name=name]")?.focus();
    }
    const { app } = this.#view;
    const added = own.multiwire ? one.circuit : this.name;
    const circuits = [...entry(app, "multiwire", into).circuits, added];
    const joined = await app.edit(`Join circuit "${added}" to multiwire "${into}"`, [
      { verb: "set", kind: "multiwire", name: into, set: { circuits } },
    ]);
    if (joined) this.#view.choose({ kind: "multiwire", name: into }, true);
  }

  #show_form(other) {
    const { app } = this.#view;
    this.#shown = other;
    delete this.root.dataset.made;
    const both = [this.name, other];
    const run = common_run(app, both);
    const has_run = Object.keys(run).length > 0;
    const { main, more } = multiwire_fields(app, false);
    const take = h("input", { type: "checkbox", name: "take_runs", checked: has_run });
    const free = () => unique(names(app, "multiwire"), `${both[0]} and ${both[1]}`);
    main[0].control.placeholder = free();
    const id = `new-multiwire:${both.join("+")}`;
    const form = new RecordForm(app, {
      id,
      kind: "multiwire",
      name: null,
      submit: "Join them",
      main,
      more,
      start: { neutral_joint: "unknown", ...run },
      start_name: free,
      fixed: () => ({ circuits: both }),
      extra: has_run
        ? [
            h(
              "label.e-onward",
              null,
              take,
              " The circuits' own runs are this shared run (else each counts on from its end)",
            ),
          ]
        : [h("p.note", null, "A circuit's own run counts from the end of the shared run.")],
      also: () => (has_run && take.checked ? both.map((name) => without_run(app, name)) : []),
      closed: () => this.#set(""),
      saved: (name) => this.#view.choose({ kind: "multiwire", name }, true),
    });
    const same = same_legs(app, both);
    fill(
      this.root,
      h("h4", null, `Join ${both[0]} with ${both[1]}`),
      h(
        "p",
        null,
        both.map((name) => [h("b", null, name), " ", leg_signs(app, known(app, name).legs), " "]),
      ),
      same.length > 0 && h("p.over", null, sum_sentence(same)),
      form.root,
    );
  }
}

const without_run = (app, name) => ({
  verb: "set",
  kind: "circuit",
  name,
  set: {},
  clear: kRun.filter((key) => entry(app, "circuit", name)[key] !== undefined),
});
