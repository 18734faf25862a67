// What a key of the description is called on this page, made from the key itself, and its help.
import { h, leg_sign } from "./dom.js";

const kUnits = {
  a: "A",
  amps: "A",
  volts: "V",
  ohms: "Ω",
  ft: "ft",
  m: "m",
  ft2: "ft²",
  m2: "m²",
  percent: "%",
  degrees: "°",
};

const kNamed = {
  neutral: "Neutral conductor",
  kva: "Rating, kVA",
  "load.at": "At which outlet or circuit",
  "load.on": "On as found",
  "load.circuit": "On which circuit's hot",
  "load.connect": "Connected between",
  "load.volts": "Nameplate, V",
  "load.max_volts": "Withstands without end, V",
  "load.leading": "Power factor is leading",
  "load.noncoincident": "Never on together with (a name that such loads share)",
  "outlet.on": "On which circuit or multiwire",
  "outlet.after": "After which outlet",
  "circuit.space": "First space",
  "circuit.legs": "Legs, in place of those of its space",
  "circuit.locked": "Locked: stays in its space",
  "circuit.measured_amps": "Measured with a clamp, A",
  "panel.fed_from": "Fed from panel",
  "panel.at_spaces": "At spaces of that panel",
  "supply.volts": "Measured leg to neutral, V",
  "dwelling.new_hvac": "Heating or cooling is being added",
};

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

// "breaker_a" is "Breaker, A".
export function label_of(kind, key) {
  const named = kNamed[`${kind}.${key}`] ?? kNamed[key];
  if (named) return named;
  const words = key.split("_");
  const unit = words.length > 1 ? kUnits[words.at(-1)] : undefined;
  return capital((unit ? words.slice(0, -1) : words).join(" ")) + (unit ? `, ${unit}` : "");
}

const kPlain = ["text", "true or false", "a list of names"];

// What is expected, where that says more than the field shows by itself.
export function help_of(spec) {
  if (spec.choices.length > 0 || kPlain.includes(spec.expected)) return "";
  return capital(spec.expected);
}

const kKinds = { transformer: "transformer", house: "house's name and texts" };
export const thing = (kind, name) => (name ? `${kind} “${name}”` : `the ${kKinds[kind] ?? kind}`);

// The label of a step, as undo names it.
export const step_of = (verb, kind, name) =>
  name ? `${verb} ${kind} "${name}"` : `${verb} the ${kKinds[kind] ?? kind}`;

// The signs of several legs in a row.
export const leg_signs = (app, legs) =>
  h(
    "span.e-legs",
    null,
    legs.map((leg) => leg_sign(app.house.legs, leg)),
  );
