// How outlets follow each other on a cable, as the description says it: `after`, else the outlet
// listed before on the same circuit or multiwire, else the end of that run.
import { entry, list, multiwire_of } from "./enter_find.js";

// All of a cable by one of its circuits or its multiwire: {multiwire, circuits, outlets}.
export function cable_of(app, kind, name) {
  const shared = kind === "multiwire" ? name : multiwire_of(app, name);
  const multiwire = shared ? entry(app, "multiwire", shared) : null;
  const circuits = multiwire ? multiwire.circuits : [name];
  const ons = new Set([...(multiwire ? [multiwire.name] : []), ...circuits]);
  return { multiwire, circuits, outlets: list(app, "outlet").filter((one) => ons.has(one.on)) };
}

function parent_of(cable, outlet) {
  if (outlet.after !== undefined) return outlet.after;
  const before = cable.outlets.slice(0, cable.outlets.indexOf(outlet)).filter((one) => one.on === outlet.on);
  return before.at(-1)?.name ?? null;
}

export const after_of = (cable, name) => cable.outlets.filter((one) => parent_of(cable, one) === name);
export const first_of = (cable) => cable.outlets.filter((one) => parent_of(cable, one) === null);

// What an outlet without `after` would follow, were it listed last.
export const listed_last = (cable, on) => cable.outlets.filter((one) => one.on === on).at(-1)?.name ?? "";

// Where a further outlet of this circuit or multiwire goes on: its furthest end along the line.
export function end_of(cable, on) {
  const own = (outlet) => outlet.on === on;
  let at = cable.outlets.find(
    (one) => own(one) && !cable.outlets.some((up) => own(up) && up.name === parent_of(cable, one)),
  );
  while (at) {
    const next = after_of(cable, at.name).filter(own).at(-1);
    if (!next) return at.name;
    at = next;
  }
  const shared = cable.multiwire?.name;
  return shared && shared !== on ? end_of(cable, shared) : "";
}

// What an outlet on `on` may follow.
export const could_follow = (cable, on) =>
  cable.outlets.filter((one) => one.on === on || one.on === cable.multiwire?.name).map((one) => one.name);

// Edits that put a new outlet of that name between `after` and what followed it.
export function put_between(cable, on, after, name) {
  const follow = (one) => on === cable.multiwire?.name || one.on === on;
  const next = after ? after_of(cable, after).filter(follow) : [];
  return next.map((one) => ({ verb: "set", kind: "outlet", name: one.name, set: { after: name } }));
}
