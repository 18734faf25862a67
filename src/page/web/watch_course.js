// The sentences of a failure cascade, in the words of `evenleg audit`.
import { volts } from "./dom.js";

const kMostNames = 6;

const kEnds = {
  rests: "It comes to rest.",
  floats: "No load that draws holds the neutral any more: it floats, and no volts can be stated.",
  cycles: "It does not come to rest: loads drop out and return by turns. The volts are the highest seen.",
  "not settled": "No rest was found within the steps that were followed.",
};

function names(list) {
  const some = list.slice(0, kMostNames).map((name) => `“${name}”`);
  if (list.length > kMostNames) some.push(`${list.length - kMostNames} more`);
  return some.length < 2 ? some.join("") : `${some.slice(0, -1).join(", ")} and ${some.at(-1)}`;
}

function cause_sentence(step, before) {
  if (step.cause === "neutral opened") return "The neutral is lost.";
  const name = `“${step.load}”`;
  if (step.cause === "overload opened") return `${name}, stalled, would be opened by its overload.`;
  const seen = before?.loads.find((one) => one.load === step.load);
  return `${name} would fail open${seen && seen.volts !== null ? `, at ${volts(seen.volts)}` : ""}.`;
}

// A load that drops out and returns is told once.
const changed_to = (step, to) => [
  ...new Set(step.changes.filter((one) => one.to === to).map((one) => one.load)),
];

// What happened in a step: its cause, what dropped out or stalled, and how it ends.
export function step_sentences(step, before) {
  const out = changed_to(step, "locked out");
  const stalled = changed_to(step, "stalled");
  return [
    cause_sentence(step, before),
    out.length > 0 && `Too few volts to run, ${out.length === 1 ? "drops" : "drop"} out: ${names(out)}.`,
    stalled.length > 0 && `${stalled.length === 1 ? "Stalls" : "Stall"}: ${names(stalled)}.`,
    kEnds[step.end],
  ].filter(Boolean);
}

export function status_word(seen, withstands) {
  if (seen.status === "locked out") return "dropped out";
  if (seen.status !== "running") return seen.status;
  if (seen.past_failing) return "running, ‼ past what it lasts under";
  const word = seen.conducting ? "conducting" : "running";
  return seen.volts > withstands ? `${word}, ‼ past its ${withstands.toFixed(0)} V` : word;
}

function held_sentence(behaviour) {
  const points = behaviour.balance_points;
  const holding = points.filter((point) => point.stable).length;
  const floats = behaviour.cascade.length === 1 && behaviour.cascade[0].end === "floats";
  if (points.length === 0 && floats) return "No balance point: nothing that draws holds the neutral.";
  if (points.length === 0 && !behaviour.all_statuses) return "No balance point was found.";
  if (points.length === 0)
    return "There is no balance point: in no way can these loads share the volts steadily.";
  if (points.length === 1) {
    return holding === 1
      ? "There is one balance point, and it holds."
      : "There is one balance point, and it does not hold: the least change drives the loads away from it.";
  }
  const would =
    holding === 0
      ? "none holds"
      : holding === points.length
        ? "each would hold"
        : holding === 1
          ? "one of them would hold"
          : `${holding} of them would hold`;
  return `There are ${points.length} balance points, and ${would}.`;
}

// Whether the loads can share the volts steadily.
export function points_sentence(behaviour) {
  const rest = behaviour.all_statuses
    ? ""
    : " Not each load's dropping out was tried for itself: those of one leg and like limits went together.";
  return held_sentence(behaviour) + rest;
}
