// What is entered of a circuit: the small form of a free space, and all of a circuit that is there.
import { h, fill } from "./dom.js";
import { leg_signs } from "./enter_labels.js";
import { entry, known, multiwire_of, names, unique, space_of, face_of } from "./enter_find.js";
import { field_of } from "./enter_keys.js";
import { length_field } from "./enter_outlet_form.js";
import { RecordForm } from "./enter_form.js";
import { Cable } from "./enter_cable.js";
import { Join } from "./enter_join.js";

const kBrief = ["name", "breaker_a", "poles", "conductor"];
const kLast = ["protection"];
const kOnward = "enter-onward"; // whether the next free space follows at once

function fields(app, further) {
  const terse = (key) => field_of(app, "circuit", key, { terse: true });
  const main = [...kBrief.map(terse), length_field(app), ...kLast.map(terse), ...further.map(terse)];
  const used = new Set(main.flatMap((field) => field.keys));
  const more = app.words.keys.circuit
    .map((one) => one.key)
    .filter((key) => !used.has(key))
    .map((key) => field_of(app, "circuit", key));
  return { main, more };
}

const kFresh = { poles: 1, protection: "standard", locked: false };

// A free space: {panel, space}.
export class NewCircuitPage {
  #view;
  #form;
  #taken = h("p.note");
  constructor(view, { panel, space }) {
    this.#view = view;
    const { app } = view;
    this.chosen = { panel, space };
    const first = names(app, "panel")[0] === panel;
    const { main, more } = fields(app, []);
    const onward = h("input", {
      type: "checkbox",
      name: "onward",
      id: "e-onward",
      onchange: () => sessionStorage.setItem(kOnward, onward.checked ? "1" : "0"),
    });
    onward.checked = sessionStorage.getItem(kOnward) !== "0";
    const free = () => unique(names(app, "circuit"), `Circuit ${space}`);
    const shown = () => (main[0].control.placeholder = free());
    this.#form = view.forms.get(
      `new-circuit:${panel}:${space}`,
      (id) =>
        new RecordForm(app, {
          id,
          kind: "circuit",
          name: null,
          submit: "Add the circuit",
          start: { ...kFresh, space, ...(first ? {} : { panel }) },
          main,
          more,
          start_name: free,
          shown,
          typed: shown,
          extra: [
            h("label.e-onward", { for: onward.id }, onward, " then the next free space of this column"),
          ],
          closed: () => view.leave_page(),
          saved: (name) => {
            view.forms.drop(id);
            if (onward.checked && view.next_free(panel, space)) return;
            view.choose({ kind: "circuit", name });
            view.stand_on(name);
          },
        }),
    );
    this.root = h(
      "div",
      null,
      h(
        "div.e-head",
        null,
        h("h3", null, `Space ${space} of ${panel}`),
        leg_signs(app, [space_of(app, panel, space)?.leg].filter(Boolean)),
      ),
      this.#taken,
      this.#form.root,
      h(
        "p.note",
        null,
        h(
          "button.quiet",
          { type: "button", "data-action": "feed-panel", onclick: () => view.feed_panel(panel, space) },
          "A breaker here feeds a further panel",
        ),
      ),
    );
  }
  draw() {
    const { panel, space } = this.chosen;
    const holds = space_of(this.#view.app, panel, space)?.holds ?? [];
    const who = holds.map((seat) => seat.circuit ?? `the feeder of ${seat.feeds}`).join(" and ");
    this.#taken.textContent = !face_of(this.#view.app, panel)
      ? `The panel ${panel} is no longer in the house.`
      : who
        ? `Meanwhile space ${space} holds ${who}. What is typed is kept; choose another under “More”.`
        : "";
  }
  focus(key) {
    this.#form.focus(key);
  }
}

export class CircuitPage {
  #view;
  #form;
  #head = h("div.e-head");
  #shared = h("div.e-shared-of");
  #gone = h("p.note");
  constructor(view, name) {
    this.#view = view;
    this.name = name;
    const { app } = view;
    const { main, more } = fields(app, ["locked", "measured_amps", "legs"]);
    this.#form = view.forms.get(
      `circuit:${name}`,
      (id) =>
        new RecordForm(app, {
          id,
          kind: "circuit",
          name,
          main,
          more,
          closed: () => view.leave_page(),
          saved: (now) => view.stand_on(now),
        }),
    );
    this.cable = new Cable(view, "circuit", name);
    this.join = new Join(view, name);
    const act = (action, text, call) =>
      h("button", { type: "button", "data-action": action, "data-key": action, onclick: call }, text);
    this.acts = h(
      "div.e-acts",
      null,
      act("move", "Move", () => view.carry(this.name)),
      act("join", "Join with …", () => this.join.toggle()),
      act("remove", "Remove circuit", () => view.remove("circuit", this.name)),
    );
    this.root = h(
      "div",
      null,
      this.#head,
      this.#gone,
      this.#form.root,
      this.acts,
      this.join.root,
      this.#shared,
      this.cable.root,
    );
  }
  draw() {
    const { app } = this.#view;
    this.name = this.join.name = this.cable.name = this.#form.name;
    const circuit = entry(app, "circuit", this.name);
    for (const part of [this.acts, this.join.root, this.#shared, this.cable.root]) part.hidden = !circuit;
    if (!circuit) return;
    const { panel, legs } = known(app, this.name);
    const spaces = circuit.space
      ? Array.from({ length: circuit.poles }, (_, i) => circuit.space + 2 * i)
      : [];
    fill(
      this.#head,
      h("h3", { tabindex: "-1" }, this.name),
      leg_signs(app, legs),
      h(
        "span.note",
        null,
        spaces.length > 0
          ? `${panel}, ${spaces.length > 1 ? "spaces" : "space"} ${spaces.join(", ")}`
          : `${panel}, without a space`,
      ),
    );
    const multiwire = multiwire_of(app, this.name);
    fill(
      this.#shared,
      multiwire && [
        h(
          "p",
          null,
          "Shares the neutral of the multiwire ",
          h(
            "button.quiet",
            {
              type: "button",
              "data-action": "multiwire",
              "data-key": "multiwire",
              onclick: () => this.#view.choose({ kind: "multiwire", name: multiwire }, true),
            },
            multiwire,
          ),
          ` with ${
            entry(app, "multiwire", multiwire)
              .circuits.filter((one) => one !== this.name)
              .join(", ") || "no other circuit yet"
          }.`,
        ),
      ],
    );
    this.join.draw();
    this.cable.draw();
  }
  // On a touch screen a field would raise its keyboard over what was asked for.
  focus(key) {
    if (key || !matchMedia("(pointer: coarse)").matches) return this.#form.focus(key);
    this.#head.querySelector("h3")?.focus({ preventScroll: true });
  }
}
