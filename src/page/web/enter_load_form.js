// The forms of a load: its kind from the library, its rating, how it is switched.
import { names, unique, entry, known, ratings } from "./enter_find.js";
import { circuits_at } from "./enter_choices.js";
import { ChoiceField, UnitField } from "./enter_fields.js";
import { field_of } from "./enter_keys.js";
import { RecordForm } from "./enter_form.js";

const kMain = ["kind", "name", "on", "switching"];

const rating_field = () =>
  new UnitField({
    pairs: ratings,
    label: "Rating",
    unit: "watts",
    name: "rating",
    help: "Of its nameplate, or a clamp reading; may be left for later",
  });

// The circuit of an outlet on a multiwire: whose hot it uses.
function hot_field(app, at) {
  return new ChoiceField({ keys: ["circuit"], label: "On which circuit's hot" }, () => [
    ["", "not given"],
    ...circuits_at(app, at()),
  ]);
}

const several_poles = (app, at) => {
  const on = entry(app, "outlet", at)?.on ?? at;
  return (entry(app, "circuit", on)?.poles ?? 1) > 1 || (known(app, on)?.legs.length ?? 0) > 1;
};

function fields_of(app, at) {
  const rating = rating_field();
  const hot = hot_field(app, at);
  const connect = field_of(app, "load", "connect", { terse: true });
  const on_multiwire = circuits_at(app, at()).length > 0;
  const connected = several_poles(app, at());
  const [kind, name, on, switching] = kMain.map((key) => field_of(app, "load", key, { terse: true }));
  const main = [
    kind,
    name,
    rating,
    ...(on_multiwire ? [hot] : []),
    ...(connected ? [connect] : []),
    on,
    switching,
  ];
  const used = new Set([...main.flatMap((field) => field.keys), "at"]);
  const more = app.words.keys.load
    .map((one) => one.key)
    .filter((key) => !used.has(key))
    .map((key) => field_of(app, "load", key));
  return { main, more, kind, name, rating };
}

export function load_form(view, id, name) {
  const { app } = view;
  let form = null;
  const at = () => entry(app, "load", form?.name ?? name)?.at ?? "";
  const { main, more } = fields_of(app, at);
  form = new RecordForm(app, {
    id,
    kind: "load",
    name,
    main,
    more: [field_of(app, "load", "at"), ...more],
    closed: () => view.close_form(form.id),
    saved: () => view.close_form(form.id),
  });
  return form;
}

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

// at(): the outlet, or the circuit at the end of whose run it sits. hot: the circuit that is chosen,
// whose hot is meant where the outlet has several.
export function new_load_form(view, id, at, hot) {
  const { app } = view;
  const { main, more, kind, name, rating } = fields_of(app, at);
  const free = () => unique(names(app, "load"), capital(kind.read() || "load"));
  const show = () => (name.control.placeholder = free());
  kind.combobox.onpick = () => rating.focus();
  return new RecordForm(app, {
    id,
    kind: "load",
    name: null,
    submit: "Add the load",
    start: {
      on: true,
      switching: "free",
      ...(circuits_at(app, at()).some(([name]) => name === hot) ? { circuit: hot } : {}),
    },
    main,
    more,
    start_name: free,
    shown: show,
    typed: show,
    fixed: () => ({ at: at() }),
    closed: (form) => view.close_form(form.id),
    saved: (added, form) => view.added(form.id, `load:${added}`),
  });
}
