// Parting a multiwire circuit again: what becomes of its outlets, loads and runs.
import { entry, list } from "./enter_find.js";
import { step_of } from "./enter_labels.js";

// What parting a multiwire does: its outlets stay with one circuit, each circuit keeps the whole
// way from the panel where that can be told from what is given.
export function parting(app, name, keeper) {
  const multiwire = entry(app, "multiwire", name);
  const outlets = list(app, "outlet").filter((one) => one.on === name);
  const shared = new Set(outlets.map((one) => one.name));
  const edits = [];
  for (const outlet of outlets)
    edits.push({ verb: "set", kind: "outlet", name: outlet.name, set: { on: keeper } });
  const cut = list(app, "outlet").filter(
    (one) => shared.has(one.after) && one.on !== keeper && !shared.has(one.name),
  );
  for (const outlet of cut) edits.push({ verb: "set", kind: "outlet", name: outlet.name, clear: ["after"] });
  const moved = [];
  for (const load of list(app, "load").filter((one) => shared.has(one.at))) {
    const away = load.circuit && load.circuit !== keeper;
    if (away) moved.push(load.name);
    edits.push({
      verb: "set",
      kind: "load",
      name: load.name,
      set: away ? { at: load.circuit } : {},
      clear: load.circuit ? ["circuit"] : [],
    });
  }
  const runs = multiwire.circuits.map((one) => [one, whole_run(multiwire, entry(app, "circuit", one))]);
  for (const [one, set] of runs) if (set) edits.push({ verb: "set", kind: "circuit", name: one, set });
  edits.push({ verb: "remove", kind: "multiwire", name });
  return { label: step_of("Part", "multiwire", name), edits, outlets, cut, moved, runs };
}

// The shared run and the circuit's own as one; null where they cannot be told as one.
function whole_run(shared, circuit) {
  const own = ["hot_ohms", "neutral_ohms", "neutral"].some(
    (key) => circuit[key] !== undefined || shared[key] !== undefined,
  );
  const key = shared.length_ft !== undefined ? "length_ft" : "length_m";
  const other = key === "length_ft" ? "length_m" : "length_ft";
  const differs = circuit.conductor !== undefined && circuit.conductor !== shared.conductor;
  if (own || differs || shared[key] === undefined || circuit[other] !== undefined) return null;
  return {
    [key]: Number((shared[key] + (circuit[key] ?? 0)).toFixed(6)),
    ...(shared.conductor ? { conductor: shared.conductor } : {}),
  };
}
