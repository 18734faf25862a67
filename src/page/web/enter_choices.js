// What a key may be set to where that is one of a few, or follows from the rest of the house.
import { names, entry, known } from "./enter_find.js";

const none = ["", "not given"];
const plain = (all) => all.map((one) => [one, one]);

function poles(app) {
  const most = Math.max(1, Math.min(3, app.house.legs.length || 3));
  return plain(["1", "2", "3"].slice(0, most));
}

// "L-N", "L-L", and each by the names of the legs.
function connections(app) {
  const { legs } = app.house;
  const pairs = legs.flatMap((one, i) => legs.slice(i + 1).map((other) => `${one}-${other}`));
  return [
    ["", "as its circuit's poles suggest"],
    ...plain(["L-N", "L-L", ...legs.map((leg) => `${leg}-N`), ...pairs]),
  ];
}

const with_legs = (app, name) => {
  const legs = known(app, name)?.legs ?? [];
  return [name, legs.length > 0 ? `${name} (${legs.join(", ")})` : name];
};

const kByKey = {
  "circuit.poles": poles,
  "circuit.panel": (app) => [["", "the first"], ...plain(names(app, "panel"))],
  "panel.fed_from": (app) => [none, ...plain(names(app, "panel"))],
  "outlet.on": (app) => [
    ...names(app, "circuit").map((name) => with_legs(app, name)),
    ...names(app, "multiwire").map((name) => [name, `${name} (multiwire: all its hots)`]),
  ],
  "outlet.after": (app) => [
    ["", "the one listed before it, or the end of the run"],
    ...plain(names(app, "outlet")),
  ],
  "load.at": (app) => [
    ...plain(names(app, "outlet")),
    ...names(app, "circuit").map((name) => [name, `${name} (end of the circuit's run)`]),
  ],
  "load.circuit": (app) => [none, ...names(app, "circuit").map((name) => with_legs(app, name))],
  "load.connect": connections,
  "supply.system": (app) => app.words.systems.map((one) => [one.system, one.system]),
  "multiwire.common_disconnect": () => [
    ["", "not known"],
    ["true", "yes"],
    ["false", "no"],
  ],
};

// Words that stand there by default have no "not given".
const kDefaulted = ["protection", "switching", "neutral_joint"];

// A function that gives [[value, text]], or null where the key takes any value.
export function choices_of(app, kind, spec) {
  const made = kByKey[`${kind}.${spec.key}`];
  if (made) return () => made(app);
  if (spec.choices.length === 0) return null;
  return () => [...(kDefaulted.includes(spec.key) ? [] : [none]), ...plain(spec.choices)];
}

// A function that gives the names that a list is chosen from, or null.
export function reference_of(app, kind, key) {
  if (kind === "circuit" && key === "legs") return () => app.house.legs;
  if (kind === "multiwire" && key === "circuits") return () => names(app, "circuit");
  return null;
}

// The circuits whose hots reach what a load is at.
export function circuits_at(app, at) {
  const outlet = entry(app, "outlet", at);
  const multiwire = outlet && entry(app, "multiwire", outlet.on);
  return multiwire ? multiwire.circuits.map((name) => with_legs(app, name)) : [];
}
