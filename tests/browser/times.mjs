// How long the page takes from a click to its paint: node times.mjs PROGRAM HOUSE.toml [ROUNDS]
//
// In Chromium without a window, at 1280 and 360 px: a load switched, a neutral opened and mended, a step
// of the neutral's slider, a circuit dragged onto another. From the event to the second animation frame
// after its answer was drawn, so that the paint is in it; median, 99th percentile and most, in
// milliseconds. Nothing in `check` is timed: this is for a machine with nothing else to do.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Browser, needs_browser, wait_for } from "./webdriver.mjs";
import { Program } from "./program.mjs";

const [program, description, rounds = "100"] = process.argv.slice(2);
needs_browser();
const folder = mkdtempSync(join(tmpdir(), "evenleg-times-"));
const served = new Program(program, join(folder, "timed.house"));
served.run("new", served.house, "--from", description);
const browser = await Browser.start({ width: 1280, height: 900 });

// Runs `act` so often and gives the times. `answers` counts the drawn answers of the part.
const kTimed = `
  const [act, rounds, done] = arguments;
  const root = document.getElementById("view");
  const work = new Function("i", act);
  const once = (i) => new Promise((ready) => {
    const before = root.dataset.answers;
    const begun = performance.now();
    work(i);
    const look = () => root.dataset.answers === before ? requestAnimationFrame(look)
      : requestAnimationFrame(() => ready(performance.now() - begun));
    requestAnimationFrame(look);
  });
  (async () => {
    const times = [];
    for (let i = 0; i < rounds; ++i) {
      times.push(await once(i));
      await new Promise((rest) => setTimeout(rest, 40));
    }
    done(times);
  })();`;

function tell(what, times) {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share) => sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)].toFixed(1);
  console.log(`${what.padEnd(44)} ${String(times.length).padStart(4)}  median ${at(0.5)}  99 % ${at(0.99)}  most ${at(1)}`);
}
const part = async (name) => {
  await browser.click(`#views a[href="#${name}"]`);
  await wait_for(() => browser.script("return document.getElementById('view').dataset.view === arguments[0] && Number(document.getElementById('view').dataset.answers) > 0", name), name);
};

try {
  await browser.open(await served.open());
  await wait_for(() => browser.script("return fetch('api/audit').then((a) => a.json()).then((a) => a.state === 'done')"), "the audit's end", 120_000);
  for (const [width, height] of [[1280, 900], [360, 740]]) {
    await browser.size(width, height);
    await part("watch");
    const timed = async (what, act) => tell(`${what}, ${width} px`, await browser.script_async(kTimed, act, Number(rounds)));
    await timed("a load switched", "const all = document.querySelectorAll('[role=switch][data-load]'); all[(7 * i) % all.length].click();");
    await timed("a neutral opened, and mended", "const all = document.querySelectorAll('[data-place]'); all[(i >> 1) % all.length].click();");
    await browser.script("document.querySelector('[data-place]').click()");
    await timed("a step of its slider", "const s = document.getElementById('ohms'); s.value = Number(s.min) + (Number(s.max) - Number(s.min)) * ((i * 37) % 100) / 100; s.dispatchEvent(new Event('input', {bubbles: true}));");
    await browser.script("document.getElementById('undo-all').click()");
  }
  await browser.size(1280, 900);
  await part("even");
  const spaces = await browser.script("return [...document.querySelectorAll('[data-panel=\"Main\"][data-circuit]')].map((s) => s.dataset.space)");
  const times = [];
  for (let i = 0; i < Math.min(40, Number(rounds)); ++i) {
    // The drop is taken when the trial that the page keeps has changed; its faces and bars follow at once.
    await browser.script("window.timed = null; addEventListener('pointerup', () => {" +
      "const begun = performance.now(), before = sessionStorage.getItem('trial');" +
      "const look = () => sessionStorage.getItem('trial') === before ? requestAnimationFrame(look)" +
      " : requestAnimationFrame(() => { window.timed = performance.now() - begun; });" +
      "requestAnimationFrame(look); }, {once: true, capture: true});");
    const [a, b] = [spaces[(2 * i) % 8], spaces[(2 * i + 3) % 8]];
    await browser.drag(`[data-panel="Main"][data-space="${a}"]`, `[data-panel="Main"][data-space="${b}"]`);
    const taken = await wait_for(() => browser.script("return window.timed"), "the drop's answer", 3000).catch(() => null);
    if (taken) times.push(taken);
  }
  if (times.length === 0) throw new Error("no drag was taken");
  tell("a circuit dragged and dropped, 1280 px", times);
} finally {
  await served.end("SIGKILL");
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
