// The columns of the table of readings, for the legs of this supply, and what each is called.
const kMeasured = ["volts", "amps"];
const kFirst = ["at", "label", "time"];
const kLabels = {
  at: "At",
  label: "Label",
  time: "Time",
  on: "Loads on",
  main_off: "Main off",
  neutral_amps: "N, A",
  electrode_amps: "Grounding electrode conductor, A",
  water_pipe_amps: "Water pipe, A",
  together_amps: "Hot and neutral in one clamp, A",
  neutral_ground_volts: "N to ground, V",
  joint_volts: "Across the suspect joint, V",
  instrument: "Instrument",
  meter_input: "Meter's input",
  accuracy_percent: "Meter's accuracy, % of reading",
  accuracy_volts: "Meter's accuracy, V",
  amps_accuracy_percent: "Clamp's accuracy, %",
};
const kKinds = { number: "figure", flag: "flag", text_list: "names", time: "time" };

// "l1_l2_volts": "L1-L2, V"; "l1_ground_volts": "L1 to ground, V".
function label_of(key) {
  if (kLabels[key]) return kLabels[key];
  const [a, b, unit] = key
    .replace(/_(volts|amps)$/, "_ $1")
    .replace("_ ", "_")
    .split("_");
  if (b === "amps") return `${a.toUpperCase()}, A`;
  if (b === "ground") return `${a.toUpperCase()} to ground, V`;
  return `${a.toUpperCase()}-${b.toUpperCase()}, ${unit === "volts" ? "V" : "A"}`;
}
// Whether a key is of a leg that this supply has not.
const is_of_no_leg = (key, legs) =>
  (key.match(/l\d/g) ?? []).some((leg) => !legs.includes(leg.toUpperCase()));
const is_in_table = (key) =>
  /^l\d_(n|l\d)_volts$/.test(key) || /^l\d_amps$/.test(key) || key === "neutral_amps";

const names = (list) => (list ?? []).map((one) => one.name);
const two_groups = (house) => [
  { label: "Panels", names: names(house.panel) },
  { label: "Outlets", names: names(house.outlet) },
];

// {first, figures, more}: specs of fields. What a reading holds of a further leg stands under "More".
export function columns_of(app) {
  const { house, legs } = app.house;
  const held = new Set(house.reading.flatMap((reading) => Object.keys(reading)));
  const keys = app.words.keys.reading.filter(
    ({ key }) => legs.length === 0 || !is_of_no_leg(key, legs) || held.has(key),
  );
  const spec_of = (word) => {
    const { key, type, choices } = word;
    const spec = { key, label: label_of(key), kind: kKinds[type] ?? "text" };
    if (kMeasured.some((unit) => key.endsWith(`_${unit}`)) && key !== "accuracy_volts") spec.measured = true;
    if (key === "time") spec.placeholder = "2026-03-14 10:20";
    if (choices.length > 0) Object.assign(spec, { kind: "choice", choices: () => choices });
    if (key === "at") Object.assign(spec, { kind: "choice", choices: () => two_groups(app.house.house) });
    if (key === "on") spec.choices = () => names(app.house.house.load);
    return spec;
  };
  const all = keys.map(spec_of);
  const in_table = (key) => is_in_table(key) && (legs.length === 0 || !is_of_no_leg(key, legs));
  const figures = all.filter(({ key }) => in_table(key));
  const first = kFirst.map((key) => all.find((spec) => spec.key === key));
  const last = ["on", "main_off"].map((key) => all.find((spec) => spec.key === key));
  const shown = [...first, ...figures, ...last];
  return { first, figures, last, more: all.filter((spec) => !shown.includes(spec)) };
}
