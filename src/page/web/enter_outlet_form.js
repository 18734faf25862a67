// The forms of an outlet: its place along the cable, its length, its name.
import { h } from "./dom.js";
import { names, unique, length_unit } from "./enter_find.js";
import { cable_of, could_follow, listed_last, end_of, put_between, after_of } from "./enter_tree.js";
import { ChoiceField, UnitField } from "./enter_fields.js";
import { field_of } from "./enter_keys.js";
import { RecordForm } from "./enter_form.js";

export const length_field = (app, help = "") =>
  new UnitField({
    pairs: [
      ["length_ft", "ft"],
      ["length_m", "m"],
    ],
    label: "Length along the cable",
    help,
    unit: length_unit(app),
    name: "length",
  });

const rest = (app, keys) => keys.map((key) => field_of(app, "outlet", key));
const kRun = ["conductor", "neutral", "hot_ohms", "neutral_ohms"];

export function outlet_form(view, id, name) {
  const { app } = view;
  return new RecordForm(app, {
    id,
    kind: "outlet",
    name,
    main: [field_of(app, "outlet", "name", { terse: true }), length_field(app)],
    more: rest(app, ["on", "after", ...kRun]),
    closed: (form) => view.close_form(form.id),
    saved: (_, form) => view.close_form(form.id),
  });
}

// on: the circuit or multiwire that is chosen; after: the outlet before it, null the end.
export function new_outlet_form(view, id, { kind, on, after }) {
  const { app } = view;
  const cable = () => cable_of(app, kind, on);
  const hots = () => {
    const { multiwire, circuits } = cable();
    return [
      ...(multiwire ? [[multiwire.name, `${multiwire.name} (all hots of the multiwire)`]] : []),
      ...circuits.map((name) => [name, name]),
    ];
  };
  const on_field = new ChoiceField({ keys: ["on"], label: "Which hots reach it" }, hots);
  const after_field = new ChoiceField({ keys: ["after"], label: "After" }, () => {
    const all = could_follow(cable(), on_field.read());
    const at_run =
      listed_last(cable(), on_field.read()) === "" ? [["", "the end of the run from the panel"]] : [];
    return [...at_run, ...all.map((name) => [name, name])];
  });
  const between = new ChoiceField({ keys: ["between"], label: "What follows there now" }, () => [
    ["yes", "goes on from the new outlet"],
    ["no", "stays: the new one is a branch"],
  ]);
  between.edits = () => ({ set: {}, clear: [] });
  after_field.edits = (draft) => ({
    set: draft && draft !== listed_last(cable(), on_field.read()) ? { after: draft } : {},
    clear: [],
  });
  const free = () => unique(names(app, "outlet"), `${on_field.read()} outlet ${cable().outlets.length + 1}`);
  const name_field = field_of(app, "outlet", "name", { terse: true });
  let shown_on = "";
  const show = () => {
    if (shown_on && on_field.read() !== shown_on) after_field.show(end_of(cable(), on_field.read()));
    shown_on = on_field.read();
    on_field.root.hidden = hots().length < 2;
    between.root.hidden = after_of(cable(), after_field.read()).length === 0;
    name_field.control.placeholder = free();
  };
  const start_on = after ? (cable().outlets.find((one) => one.name === after)?.on ?? on) : on;
  const begin = after ?? end_of(cable(), start_on);
  return new RecordForm(app, {
    id,
    kind: "outlet",
    name: null,
    submit: "Add the outlet",
    start: { on: start_on, after: begin, between: "yes" },
    main: [name_field, length_field(app), on_field, after_field, between],
    more: rest(app, kRun),
    extra: [
      h("p.note", null, "Its length is from the outlet before it. A splice box is an outlet with no load."),
    ],
    start_name: free,
    shown: show,
    typed: show,
    also: (form, name) =>
      between.read() === "yes" && !between.root.hidden
        ? put_between(cable(), on_field.read(), after_field.read(), name)
        : [],
    closed: (form) => view.close_form(form.id),
    saved: (name, form) => view.added(form.id, `outlet:${name}`),
  });
}
