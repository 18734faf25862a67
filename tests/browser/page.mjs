// The page of `evenleg open`, used as its people use it: node page.mjs PROGRAM SOURCE [PICTURES].
//
// A kitchen is entered into an empty house by mouse, and again by keyboard alone; loads are switched, the
// shared neutral opened, legs evened by dragging, all of it undone and done again, a record saved; the
// page is reloaded and the program killed in the middle. Volts and amperes are by hand (see kKitchen).
// With PICTURES, every part is photographed at 360 and 1280 pixels into that folder.
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Browser, needs_browser, wait_for } from "./webdriver.mjs";
import { Program } from "./program.mjs";

// By hand, wires of 0 ohms, resistances: 1,100 W and 1,500 W at 120 V are 9.17 A and 12.5 A, 13.09 and 9.6 ohms. On one
// open neutral they are in series across 240 V: 240 * 13.09 / 22.69 = 138.5 V and 101.5 V. A heater of
// 1,200 W beside the kettle makes 22.5 A of its leg, 13.3 A more than the other; moved, 19.2 A and 6.7 A.
const kKitchen = {
  circuits: [["13", "Counter left", "20"], ["15", "Counter right", "20"]],
  multiwire: "Kitchen counter",
  outlets: [["Counter left", "Left of sink"], ["Counter right", "Right of sink"]],
  loads: [["Left of sink", "heating", "Toaster", "1100"], ["Right of sink", "heating", "Kettle", "1500"]],
  volts_open: { Toaster: "138.5 V", Kettle: "101.5 V" },
  amps: { L1: "9.2 A", L2: "12.5 A" },
};

const [program, source, pictures] = process.argv.slice(2);
needs_browser();
const folder = mkdtempSync(join(tmpdir(), "evenleg-page-"));
const browser = await Browser.start({ width: 1280, height: 1000 });
let checks = 0;

function same(seen, wanted, what) {
  checks += 1;
  if (seen !== wanted) throw new Error(`${what}: ${JSON.stringify(seen)}, not ${JSON.stringify(wanted)}`);
}
const shows = (css, text) =>
  wait_for(async () => (await browser.text(css)).includes(text), `"${text}" in ${css}`).then(() => (checks += 1));
const part = async (name) => {
  await browser.click(`#views a[href="#${name}"]`);
  await wait_for(() => browser.script("return document.getElementById('view').dataset.view === arguments[0]", name), name);
};
const space = (n, panel = "Main") => `[data-panel="${panel}"][data-space="${n}"]`;

// ---- entering ----
async function add_circuit([n, name, breaker]) {
  await browser.click(space(n));
  await browser.type('#editor [name="name"]', name);
  await browser.type('#editor [name="breaker_a"]', breaker);
  await browser.press("Enter");
  await shows(space(n), name);
}
async function add_outlet(circuit, name, on) {
  await browser.click(`[data-action="add-outlet"][data-key="new-outlet:${circuit}"]`);
  const form = `form[data-form="new-outlet:${circuit}"]`;
  await browser.script("const s = document.querySelector(arguments[0]); s.value = arguments[1];" +
    "for (const kind of ['input', 'change']) s.dispatchEvent(new Event(kind, {bubbles: true}));", `${form} [name="on"]`, on);
  await browser.type(`${form} [name="name"]`, name);
  await browser.press("Enter");
  await shows("#editor", name);
}
async function add_load([at, kind, name, watts]) {
  await browser.click(`[data-action="add-load"][data-at="${at}"]`);
  const form = `form[data-form="new-load:${at}"]`;
  await browser.type(`${form} [name="kind"]`, kind);
  await browser.press("Down", "Enter");
  await browser.type(`${form} [name="name"]`, name);
  await browser.type(`${form} [name="watts"]`, watts);
  await browser.press("Enter");
  await shows("#editor", name);
}

async function enter_by_mouse() {
  await part("enter");
  for (const circuit of kKitchen.circuits) await add_circuit(circuit);
  await browser.click(space(13));
  await browser.click('#editor [data-action="join"]');
  await browser.click('#editor [data-partner="Counter right"]');
  await browser.type('#editor .e-join [name="name"]', kKitchen.multiwire);
  await browser.press("Enter");
  await shows(space(13), kKitchen.multiwire);
  await browser.click(space(13));
  for (const [circuit, name] of kKitchen.outlets) await add_outlet("Counter left", name, circuit);
  for (const load of kKitchen.loads) await add_load(load);
}

// ---- watching ----
const load_switch = (name) => `[data-load="${name}"][role="switch"]`;
const is_on = (name) => browser.attribute(load_switch(name), "aria-checked");

async function watch() {
  await part("watch");
  for (const [leg, amps] of Object.entries(kKitchen.amps)) await shows(`[data-leg-amps="${leg}"]`, amps);
  await browser.click(load_switch("Kettle"));
  await shows('[data-leg-amps="L2"]', "0.0 A");
  same(await is_on("Kettle"), "false", "the kettle's switch");
  await browser.click("#undo");
  await shows('[data-leg-amps="L2"]', kKitchen.amps.L2);
  await browser.click(`[data-place="${kKitchen.multiwire}"]`);
  for (const [load, volts] of Object.entries(kKitchen.volts_open)) await shows(`[data-load-volts="${load}"]`, volts);
  await shows(".caution", "do not show that a fault exists");
  for (const [goes, load] of [["bright", "Toaster"], ["dim", "Kettle"]]) {
    await shows(`.caution [data-goes="${goes}"]`, load);
    await shows(`.caution [data-goes="${goes}"]`, `120.0 V → ${kKitchen.volts_open[load]}`);
  }
  await browser.click("#worst");
  await shows('[data-load-volts="Toaster"]', kKitchen.volts_open.Toaster);
  await browser.click(`[data-place="${kKitchen.multiwire}"]`);
  await wait_for(async () => !(await browser.shown(".caution")), "the cautions gone with the fault");
}

// What is not taken is said where it was typed, and the caret stands there.
async function refused_at_its_field([n, name, breaker]) {
  await browser.click(space(n));
  await browser.type('#editor [name="name"]', name);
  await browser.type('#editor [name="breaker_a"]', breaker);
  await browser.press("Enter");
  await shows("#editor .e-form-faults", "Breaker, A");
  same(await browser.script("return document.activeElement.name"), "breaker_a", "the field with the caret");
  same(await browser.attribute('#editor [name="breaker_a"]', "aria-invalid"), "true", "the field's mark");
  await browser.console_log(); // where the browser notes the refusal
}

// ---- evening ----
async function even() {
  await part("enter");
  await refused_at_its_field(["19", "Den", "20 lbs"]);
  await browser.press("Control+a", "20 A", "Enter");
  await shows(space(19), "Den");
  await browser.click(space(19));
  await browser.click('[data-action="add-load"][data-at="Den"]');
  await browser.type('form[data-form="new-load-on:Den"] [name="kind"]', "heating");
  await browser.press("Down", "Enter");
  await browser.type('form[data-form="new-load-on:Den"] [name="watts"]', "1200");
  await browser.press("Enter");
  await shows("#editor", "1200");
  await part("even");
  await shows("[data-spread]", "13.3 A");
  await browser.drag(space(19), space(17));
  await shows("[data-spread]", "6.7 A");
  await browser.click('[data-action="write"]');
  await wait_for(() => new_house.exported().includes("space = 17"), "the circuit in its new space");
  checks += 1;
}

// ---- the record ----
async function save_record() {
  await part("record");
  await wait_for(() => browser.script("return document.querySelector('iframe').src.includes('api/record')"), "the preview");
  await browser.downloads(folder);
  await browser.click('[data-save="html"]');
  await wait_for(() => readdirSync(folder).some((name) => name.endsWith("-electrician.html")), "the saved record", 60_000);
  checks += 1;
}

// ---- by keyboard alone ----
async function tab_to(css, back = false) {
  for (let tries = 0; tries < 120; ++tries) {
    if (await browser.script("return document.activeElement.matches(arguments[0])", css)) return;
    await browser.press(back ? "Shift+Tab" : "Tab");
  }
  throw new Error(`the keyboard does not reach ${css}`);
}
async function arrow_to(n) {
  const at = () => browser.script("return Number(document.activeElement.dataset.space)");
  for (let tries = 0; tries < 60; ++tries) {
    const now = await at();
    if (now === n) return;
    if (now % 2 !== n % 2) await browser.press(n % 2 ? "Left" : "Right");
    else await browser.press(now < n ? "Down" : "Up");
  }
  throw new Error(`the arrows do not reach space ${n}`);
}
async function keys_circuit([n, name, breaker]) {
  await tab_to("[data-space]", true);
  await arrow_to(Number(n));
  await browser.press("Enter");
  await wait_for(() => browser.script("return document.activeElement.name === 'name'"), "the form's first field");
  await browser.press(name, "Tab", breaker, "Enter");
  await shows(space(n), name);
}
async function enter_by_keyboard() {
  await browser.find("[data-space]");
  await browser.script("document.querySelector('#views a').focus()");
  await tab_to("[data-space]");
  for (const circuit of kKitchen.circuits) await keys_circuit(circuit);
  await tab_to("[data-space]", true);
  await arrow_to(13);
  await browser.press("Enter");
  await tab_to('[data-action="join"]');
  await browser.press("Enter");
  await tab_to('[data-partner="Counter right"]');
  await browser.press("Enter");
  await tab_to('.e-join [name="name"]');
  await browser.press("Control+a", kKitchen.multiwire, "Enter");
  await shows(space(13), kKitchen.multiwire);
  await tab_to("[data-space]", true);
  await arrow_to(13);
  await browser.press("Enter");
  for (const [circuit, at, kind, name, watts] of kKitchen.loads.map(([at, ...load], i) => [kKitchen.circuits[i][1], at, ...load])) {
    await tab_to('[data-action="add-outlet"]');
    await browser.press("Enter");
    await tab_to('form[data-kind="outlet"] [name="on"]');
    await browser.press(circuit); // a list goes to what is typed
    await tab_to('form[data-kind="outlet"] [name="name"]', true);
    await browser.press(at, "Enter");
    await shows("#editor", at);
    await tab_to(`[data-action="add-load"][data-at="${at}"]`);
    await browser.press("Enter");
    await tab_to('form[data-kind="load"] [name="kind"]');
    await browser.press(kind, "Down", "Enter");
    await tab_to('form[data-kind="load"] [name="name"]', true);
    await browser.press(name);
    await tab_to('form[data-kind="load"] [name="watts"]');
    await browser.press(watts, "Enter");
    await shows("#editor", name);
  }
}
async function watch_by_keyboard() {
  await browser.script("document.querySelector('#views a').focus()");
  await tab_to('#views a[href="#watch"]');
  await browser.press("Enter");
  await shows('[data-leg-amps="L2"]', kKitchen.amps.L2);
  await tab_to(`[data-place="${kKitchen.multiwire}"]`);
  await browser.press("Enter");
  await shows('[data-load-volts="Toaster"]', kKitchen.volts_open.Toaster);
  await browser.press("Control+z");
  await wait_for(async () => !(await browser.shown(".caution")), "the opened neutral taken back");
  await tab_to(load_switch("Toaster"));
  await browser.press("Space");
  await shows('[data-leg-amps="L1"]', "0.0 A");
  await browser.press("Control+z");
  await shows('[data-leg-amps="L1"]', kKitchen.amps.L1);
}

// ---- what goes wrong meanwhile ----
async function reload_in_the_middle() {
  await part("enter");
  await browser.click(space(2));
  await browser.type('#editor [name="name"]', "Half a na");
  await browser.reload();
  await wait_for(async () => (await browser.property('#editor [name="name"]', "value")) === "Half a na", "what was typed, after a reload");
  await browser.click('#editor [data-action="discard"]');
  checks += 1;
}
async function kill_in_the_middle(served) {
  const before = served.exported();
  await served.end("SIGKILL");
  await shows("#trouble", "cannot be reached");
  await browser.script("document.querySelector('#views a[href=\"#enter\"]').click()");
  await browser.click(space(4));
  await browser.type('#editor [name="name"]', "Not saved");
  await browser.press("Enter");
  await shows("#trouble", "cannot be reached");
  same(await browser.property('#editor [name="name"]', "value"), "Not saved", "what was typed while nobody answered");
  same(served.exported(), before, "the house file after the kill");
  served.run("check", served.house);
  await leave(); // the lost connection is on the console, and rightly
  await browser.open(await served.open());
  await part("enter");
  await shows(space(13), "Counter left");
}
async function two_windows(served) {
  await part("enter");
  const first = await browser.window();
  const address = await served.next_address(2);
  await browser.new_window();
  await browser.open(address);
  await browser.click('#views a[href="#enter"]');
  await add_circuit(["21", "Attic", "15"]);
  await browser.close_window();
  await browser.to_window(first);
  await shows(space(21), "Attic");
}

// ---- looks ----
// What a person who does not see the page, or has no mouse, would miss: names of controls, one id for
// one thing, headings in order, targets of 44 px (WCAG 2.1: 4.1.2, 4.1.1, 1.3.1; 2.5.5 for the size).
const kMissed = `
  const shown = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getClientRects().length > 0;
  const told = (e) => (e.tagName + " " + (e.id || e.name || e.textContent || "").trim()).slice(0, 60);
  const missed = [];
  for (const e of document.querySelectorAll("input, select, textarea, button, a[href], iframe, [role=switch], summary")) {
    if (!shown(e)) continue;
    const labels = [...(e.labels ?? [])].map((l) => l.textContent).join("");
    const by = (e.getAttribute("aria-labelledby") ?? "").split(" ").filter(Boolean)
      .map((id) => document.getElementById(id)?.textContent ?? "").join("");
    const own = e.matches("input, select, textarea, iframe") ? "" : e.textContent;
    if (!(e.getAttribute("aria-label") || by || labels || e.title || own).trim()) missed.push("no name: " + told(e));
    const box = e.getBoundingClientRect();
    const small = box.height < 43.5 && !e.matches("input[type=checkbox], input[type=radio], input[type=range], iframe, .skip, p a, li a");
    if (small && !e.closest("label")) missed.push("lower than 44 px: " + told(e) + " " + Math.round(box.height));
  }
  const ids = [...document.querySelectorAll("[id]")].map((e) => e.id);
  for (const id of new Set(ids)) if (ids.filter((one) => one === id).length > 1) missed.push("twice: #" + id);
  let level = 0;
  for (const e of document.querySelectorAll("h1, h2, h3, h4, h5, h6")) {
    const now = Number(e.tagName[1]);
    if (now > level + 1) missed.push("heading skips a level: " + told(e));
    level = now;
  }
  return missed.slice(0, 12).join("; ");`;

const kParts = ["enter", "watch", "even", "readings", "record"];
async function look(name, width, height) {
  await browser.size(width, height);
  for (const one of kParts) {
    await part(one);
    await wait_for(() => browser.script("return !document.querySelector('main').textContent.includes('Being ')"), "an answer", 5000).catch(() => {});
    const over = await browser.script("return document.documentElement.scrollWidth - document.documentElement.clientWidth");
    same(over <= 0, true, `${name}, ${one}, at ${width} px: ${over} px wider than the page`);
    same(await browser.script(kMissed), "", `${name}, ${one}, at ${width} px`);
    if (pictures) await browser.screenshot(join(pictures, `${name}-${one}-${width}.png`));
  }
}
// A page whose program ends says so on its console, at a moment of its own: what it would say is left
// behind with it.
async function leave() {
  await browser.open("about:blank");
  await browser.console_log();
}
async function quiet_console(what) {
  same((await browser.console_log()).join("\n"), "", `the console after ${what}`);
}

const new_house = new Program(program, join(folder, "kitchen.house"));
const by_keys = new Program(program, join(folder, "keys.house"));
const fernhill = new Program(program, join(folder, "fernhill.house"));
let doing = "";
const step = async (what, work) => {
  doing = what;
  await work();
  await quiet_console(what);
  console.log(`${what}: good`);
};
let status = 0;
try {
  if (pictures && !existsSync(pictures)) mkdirSync(pictures, { recursive: true });
  new_house.run("new", new_house.house);
  const empty = new_house.exported();
  await browser.open(await new_house.open());
  await step("entered by mouse", enter_by_mouse);
  await step("watched", watch);
  await step("evened by dragging", even);
  await step("reloaded", reload_in_the_middle);
  const entered = new_house.exported();
  await step("all undone", async () => {
    await browser.click("#undo-all");
    await wait_for(() => new_house.exported() === empty, "the empty house");
  });
  await step("done again", async () => {
    while (await browser.script("return !document.getElementById('redo').disabled")) {
      const left = await browser.script("return document.getElementById('redo').title");
      await browser.click("#redo");
      await wait_for(() => browser.script("const r = document.getElementById('redo'); return r.disabled || r.title !== arguments[0]", left), "the next step").catch(() => {});
    }
    same(new_house.exported(), entered, "the house done again");
  });
  await step("a record saved", save_record);
  await step("killed", () => kill_in_the_middle(new_house));
  await step("two windows", () => two_windows(new_house));
  await leave();
  same(await new_house.end(), 0, "the program's exit status");

  by_keys.run("new", by_keys.house);
  await browser.open(await by_keys.open());
  await step("entered by keyboard", enter_by_keyboard);
  await step("watched by keyboard", watch_by_keyboard);
  await leave();
  await by_keys.end();

  fernhill.run("new", fernhill.house, "--from", join(source, "data", "fernhill-cottage.toml"));
  await browser.open(await fernhill.open());
  for (const [width, height] of [[360, 740], [1280, 900]]) {
    await step(`Fernhill at ${width} px`, () => look("fernhill", width, height));
  }
  await step("limits of the legs", async () => {
    await part("even");
    await browser.find(".ev-limits > summary", 120_000); // it comes with the plans
    await browser.click(".ev-limits > summary");
    await shows(".ev-limits table", "200.0 A"); // the service's breaker, as Fernhill is described
    await shows(".ev-limits table", "Winter evening");
  });
  console.log(`${checks} checks`);
} catch (reason) {
  status = 1;
  console.log(`${doing}: ${reason.stack}`);
  if (pictures) await browser.screenshot(join(pictures, "failed.png")).catch(() => {});
  console.log(await browser.console_log().catch(() => []));
} finally {
  for (const one of [new_house, by_keys, fernhill]) await one.end("SIGKILL");
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(status);
