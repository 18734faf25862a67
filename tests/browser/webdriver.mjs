// A small client of the W3C WebDriver protocol over node's own fetch, for Debian's chromium-driver: it opens
// a page as a person has it, with clicks, keys and drags at places on the screen.
//
//   import { Browser, needs_browser } from "./webdriver.mjs";
//   needs_browser();                                   // ends with 77 and the reason where there is none
//   const browser = await Browser.start();
//   await browser.open("http://127.0.0.1:8000/");
//   await browser.click("button[data-plan='1']");
//   await browser.press("Tab", "Control+z");
//   await browser.close();
//
// Elements are named by CSS selectors, or given as find() and all() gave them. A selector is looked for until
// something shown matches it, or the patience is over; every error says what was looked for. Node 18
// or later.
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const kPatience = 15_000; // milliseconds
const kLook = 40; // milliseconds between two looks
const kSkipped = 77; // the exit status that ctest takes for "skipped"
const kElement = "element-6066-11e4-a52e-4f735466cecf"; // W3C WebDriver, 12.1
const kBrowsers = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];
const kDrivers = ["/usr/bin/chromedriver", "/usr/lib/chromium/chromedriver"];
const kSilent = ["INFO", "DEBUG", "FINE"]; // levels of the console that are no trouble

export const keys = {
  Backspace: "\uE003", Tab: "\uE004", Enter: "\uE007", Shift: "\uE008", Control: "\uE009", Alt: "\uE00A",
  Escape: "\uE00C", Space: " ", PageUp: "\uE00E", PageDown: "\uE00F", End: "\uE010", Home: "\uE011",
  Left: "\uE012", Up: "\uE013", Right: "\uE014", Down: "\uE015", Insert: "\uE016", Delete: "\uE017",
};
const kHeld = ["Shift", "Control", "Alt"];

const found_of = (paths) => paths.find((path) => existsSync(path));
const pause = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));

// Ends this process with status 77 where there is no browser to test with, and says so.
export function needs_browser() {
  const wanted = [["chromium", kBrowsers], ["chromedriver", kDrivers]];
  const missing = wanted.filter(([, paths]) => !found_of(paths));
  if (missing.length === 0) return;
  console.log(`skipped: no ${missing.map(([name]) => name).join(" and no ")} on this machine`);
  process.exit(kSkipped);
}

// Until `ask` gives something true, which is the answer; `what` says what was waited for.
export async function wait_for(ask, what, patience = kPatience) {
  const end = Date.now() + patience;
  let last = "";
  do {
    try {
      const answer = await ask();
      if (answer) return answer;
    } catch (reason) {
      last = ` (${reason.message})`;
    }
    await pause(kLook);
  } while (Date.now() < end);
  throw new Error(`not seen within ${patience} ms: ${what}${last}`);
}

export class Browser {
  #driver = null;
  #folder = "";
  #base = "";

  static async start({ width = 1280, height = 900 } = {}) {
    const browser = new Browser();
    try {
      await browser.#begin(width, height);
    } catch (reason) {
      await browser.close();
      throw reason;
    }
    return browser;
  }

  async #begin(width, height) {
    this.#folder = mkdtempSync(join(tmpdir(), "evenleg-browser-"));
    const as = { stdio: ["ignore", "pipe", "ignore"], detached: true };
    this.#driver = spawn(found_of(kDrivers), ["--port=0"], as);
    process.once("exit", () => this.#end_all()); // however this process ends
    const driver = `http://127.0.0.1:${await this.#port()}`;
    const args = [
      "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
      "--disable-background-networking", "--disable-component-update", `--user-data-dir=${this.#folder}`,
    ];
    this.#base = `${driver}/session`;
    const { sessionId } = await this.#call("POST", "", {
      capabilities: { alwaysMatch: {
        "goog:loggingPrefs": { browser: "ALL" },
        "goog:chromeOptions": { binary: found_of(kBrowsers), args },
      } },
    });
    this.#base = `${driver}/session/${sessionId}`;
    await this.size(width, height);
  }
  // The free port that chromedriver chose.
  #port() {
    return new Promise((found, failed) => {
      let said = "";
      this.#driver.stdout.on("data", (data) => {
        said += data;
        const port = /started successfully on port (\d+)/.exec(said);
        if (port) found(port[1]);
      });
      this.#driver.on("error", failed);
      this.#driver.on("exit", (status) => failed(new Error(`chromedriver ended with ${status}: ${said}`)));
    });
  }
  async #call(method, path, body) {
    const response = await fetch(this.#base + path, { method, body: body && JSON.stringify(body) });
    const { value } = await response.json();
    if (!response.ok) throw new Error(`${method} ${path}: ${value.error}: ${value.message.split("\n")[0]}`);
    return value;
  }
  #devtools(cmd, params) {
    return this.#call("POST", "/goog/cdp/execute", { cmd, params });
  }

  // ---- the page ----
  open(url) {
    return this.#call("POST", "/url", { url });
  }
  reload() {
    return this.#call("POST", "/refresh", {});
  }
  url() {
    return this.#call("GET", "/url");
  }
  // What the page has room for, in CSS pixels; narrow is a phone's screen.
  size(width, height) {
    return this.#devtools("Emulation.setDeviceMetricsOverride",
      { width, height, deviceScaleFactor: 1, mobile: width < 600 });
  }
  // As for someone who prefers dark pages: media({ "prefers-color-scheme": "dark" }).
  media(features) {
    return this.#devtools("Emulation.setEmulatedMedia",
      { features: Object.entries(features).map(([name, value]) => ({ name, value })) });
  }
  // The body of a function; elements may be given as arguments.
  script(body, ...args) {
    return this.#call("POST", "/execute/sync", { script: body, args });
  }
  // The body of a function whose last argument is called with the answer.
  script_async(body, ...args) {
    return this.#call("POST", "/execute/async", { script: body, args });
  }
  // What is saved goes into this folder.
  downloads(folder) {
    return this.#devtools("Browser.setDownloadBehavior", { behavior: "allow", downloadPath: folder });
  }
  async screenshot(file) {
    writeFileSync(file, Buffer.from(await this.#call("GET", "/screenshot"), "base64"));
  }
  // Warnings and errors on the console since this was asked last.
  async console_log() {
    const log = await this.#call("POST", "/se/log", { type: "browser" });
    return log.filter((one) => !kSilent.includes(one.level)).map((one) => `${one.level}: ${one.message}`);
  }

  // ---- elements ----
  // All that match now, shown or not.
  all(css) {
    return this.#call("POST", "/elements", { using: "css selector", value: css });
  }
  // The first that matches and is shown.
  find(css, patience = kPatience) {
    if (typeof css !== "string") return css;
    return wait_for(async () => {
      for (const one of await this.all(css)) {
        if (await this.#call("GET", `/element/${one[kElement]}/displayed`)) return one;
      }
      return null;
    }, `an element that is shown and matches ${css}`, patience);
  }
  async #at(css, rest) {
    return `/element/${(await this.find(css))[kElement]}${rest}`;
  }
  async text(css) {
    return this.#call("GET", await this.#at(css, "/text"));
  }
  async attribute(css, name) {
    return this.#call("GET", await this.#at(css, `/attribute/${name}`));
  }
  async property(css, name) {
    return this.#call("GET", await this.#at(css, `/property/${name}`));
  }
  async shown(css) {
    for (const one of await this.all(css)) {
      if (await this.#call("GET", `/element/${one[kElement]}/displayed`)) return true;
    }
    return false;
  }
  // Out from under whatever sticks to the window's edges, as the page's own scroll padding has it.
  async click(css) {
    await this.script("arguments[0].scrollIntoView({ block: 'nearest' });", await this.find(css));
    return this.#call("POST", await this.#at(css, "/click"), {});
  }

  // ---- the keyboard ----
  // Into a field in place of what it holds; \n and names in braces are keys: type("#a", "12.1{Enter}").
  async type(css, text) {
    const field = await this.find(css);
    await this.#call("POST", await this.#at(field, "/clear"), {});
    const spelled = text.replaceAll("\n", keys.Enter).replace(/\{(\w+)\}/g, (all, name) => keys[name] ?? all);
    if (spelled) await this.#call("POST", await this.#at(field, "/value"), { text: spelled });
  }
  // To whatever has the focus: names of keys, held ones before a plus, or else text that is typed as it is:
  // press("Tab", "Shift+Tab", "Control+z", "Kettle").
  async press(...names) {
    const actions = [];
    for (const name of names) {
      const parts = name.split("+");
      if (parts.length > 1 && parts.slice(0, -1).every((part) => kHeld.includes(part))) {
        const all = parts.map((part) => keys[part] ?? part);
        actions.push(...all.map((value) => ({ type: "keyDown", value })));
        actions.push(...all.reverse().map((value) => ({ type: "keyUp", value })));
      } else {
        for (const value of keys[name] ? [keys[name]] : name) {
          actions.push({ type: "keyDown", value }, { type: "keyUp", value });
        }
      }
    }
    await this.#call("POST", "/actions", { actions: [{ type: "key", id: "keys", actions }] });
  }

  // ---- the pointer ----
  // From the middle of one element to the middle of another with the button, or the finger, down. `rest`:
  // milliseconds before it moves, for a finger that has to lift something first.
  async drag(from, to, { touch = false, steps = 10, rest = touch ? 450 : 0 } = {}) {
    const [source, target] = [await this.find(from), await this.find(to)];
    await this.script("arguments[0].scrollIntoView({ block: 'center' });", source);
    const [x1, y1] = await this.#middle(source);
    const [x2, y2] = await this.#middle(target);
    const move = (x, y, duration) =>
      ({ type: "pointerMove", origin: "viewport", duration, x: Math.round(x), y: Math.round(y) });
    const path = Array.from({ length: steps }, (_, i) =>
      move(x1 + ((x2 - x1) * (i + 1)) / steps, y1 + ((y2 - y1) * (i + 1)) / steps, 20));
    const actions = [move(x1, y1, 0), { type: "pointerDown", button: 0 }, { type: "pause", duration: rest },
      ...path, { type: "pause", duration: 80 }, { type: "pointerUp", button: 0 }];
    const kind = touch ? "touch" : "mouse";
    await this.#call("POST", "/actions",
      { actions: [{ type: "pointer", id: kind, parameters: { pointerType: kind }, actions }] });
  }
  // Fails where it is out of sight: a drag has both its ends on the screen.
  async #middle(element) {
    const [x, y, inside] = await this.script("const r = arguments[0].getBoundingClientRect();" +
      "const x = r.x + r.width / 2, y = r.y + r.height / 2;" +
      "return [x, y, x >= 0 && y >= 0 && x < innerWidth && y < innerHeight];", element);
    if (!inside) throw new Error(`an end of a drag is out of sight, at ${Math.round(x)}, ${Math.round(y)}`);
    return [x, y];
  }

  // ---- windows ----
  window() {
    return this.#call("GET", "/window");
  }
  windows() {
    return this.#call("GET", "/window/handles");
  }
  // A new tab, and into it; its handle.
  async new_window() {
    const { handle } = await this.#call("POST", "/window/new", { type: "tab" });
    await this.to_window(handle);
    return handle;
  }
  to_window(handle) {
    return this.#call("POST", "/window", { handle });
  }
  close_window() {
    return this.#call("DELETE", "/window");
  }
  async to_frame(css) {
    return this.#call("POST", "/frame", { id: await this.find(css) });
  }
  to_page() {
    return this.#call("POST", "/frame", { id: null });
  }

  wait_for(ask, what, patience) {
    return wait_for(ask, what, patience);
  }
  // The driver and what it started, which is a group of processes of its own; and their folder.
  #end_all() {
    try {
      if (this.#driver?.pid) process.kill(-this.#driver.pid, "SIGKILL");
    } catch {
      // It has ended already.
    }
    if (this.#folder) rmSync(this.#folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
    this.#driver = null;
    this.#folder = "";
  }
  async close() {
    if (this.#base.includes("/session/")) await this.#call("DELETE", "").catch(() => {});
    this.#end_all();
  }
}
