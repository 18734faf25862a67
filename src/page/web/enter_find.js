// Looking things up in the house as it is described.

export const list = (app, kind) => app.house.house[kind] ?? [];
export const entry = (app, kind, name) => list(app, kind).find((one) => one.name === name);
export const names = (app, kind) => list(app, kind).map((one) => one.name);

const kSingles = ["house", "supply", "transformer", "service", "dwelling"];
export const is_single = (kind) => kSingles.includes(kind);

// The entry, or an empty one of a table that is there once or not at all.
export const record_of = (app, kind, name) =>
  is_single(kind) ? (app.house.house[kind] ?? {}) : entry(app, kind, name);

// "Kettle", else "Kettle 2" and so on.
export function unique(taken, wanted) {
  const all = new Set(taken);
  if (!all.has(wanted)) return wanted;
  let n = 2;
  while (all.has(`${wanted} ${n}`)) ++n;
  return `${wanted} ${n}`;
}

// Known of a circuit: {circuit, panel, legs, multiwire}.
export const known = (app, circuit) => app.house.circuits.find((one) => one.circuit === circuit);
export const multiwire_of = (app, circuit) => known(app, circuit)?.multiwire ?? null;

export const face_of = (app, panel) => app.house.panels.find((one) => one.panel === panel);
export const space_of = (app, panel, space) => face_of(app, panel)?.spaces[space - 1];

// A run as it is given: "42 ft of 12 Cu". "" where nothing is.
export function run_text(run) {
  if (run.hot_ohms !== undefined) return `${run.hot_ohms} Ω each hot`;
  const length =
    run.length_ft !== undefined
      ? `${run.length_ft} ft`
      : run.length_m !== undefined
        ? `${run.length_m} m`
        : "";
  return [length, run.conductor].filter(Boolean).join(" of ");
}

export const ratings = [
  ["watts", "W"],
  ["va", "VA"],
  ["amps", "A"],
  ["ohms", "Ω"],
  ["measured_amps", "A measured"],
];

export function rating_text(load) {
  const given = ratings.find(([key]) => load[key] !== undefined);
  return given ? `${load[given[0]]} ${given[1]}` : "no rating yet";
}

// The circuit or multiwire that a load or an outlet hangs on: {kind, name}.
export function cable_of_load(app, load) {
  const outlet = entry(app, "outlet", load.at);
  return outlet ? cable_of_outlet(app, outlet) : { kind: "circuit", name: load.at };
}
export const cable_of_outlet = (app, outlet) => ({
  kind: entry(app, "circuit", outlet.on) ? "circuit" : "multiwire",
  name: outlet.on,
});

// "ft" or "m": what this house is described in already, else what its supply suggests.
export function length_unit(app) {
  const all = ["circuit", "multiwire", "outlet", "panel"].flatMap((kind) => list(app, kind));
  if (all.some((one) => one.length_m !== undefined)) return "length_m";
  if (all.some((one) => one.length_ft !== undefined)) return "length_ft";
  return (app.house.house.supply?.system ?? "").startsWith("230") ? "length_m" : "length_ft";
}
