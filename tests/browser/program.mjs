// `evenleg` as a person runs it, for tests of its page.
import { spawn, execFileSync } from "node:child_process";

export class Program {
  #child = null;
  #said = "";

  constructor(program, house) {
    this.program = program;
    this.house = house;
  }
  run(...words) {
    return execFileSync(this.program, words, { encoding: "utf8" });
  }
  exported() {
    return this.run("export", this.house);
  }
  // Serves the page; gives the address that opens it.
  async open() {
    this.#said = "";
    this.#child = spawn(this.program, ["open", "--no-browser", this.house], { stdio: ["ignore", "pipe", "inherit"] });
    this.#child.stdout.on("data", (data) => (this.#said += data));
    return this.next_address(1);
  }
  // The n-th address that was printed, from 1: each is used once.
  async next_address(n) {
    for (let tries = 0; tries < 500; ++tries) {
      const all = [...this.#said.matchAll(/http:\/\/\S+/g)];
      if (all.length >= n) return all[n - 1][0];
      await new Promise((done) => setTimeout(done, 20));
    }
    throw new Error(`no address was printed: ${this.#said}`);
  }
  async end(signal = "SIGTERM") {
    if (!this.#child || this.#child.exitCode !== null) return null;
    const ended = new Promise((done) => this.#child.on("exit", (status) => done(status)));
    this.#child.kill(signal);
    return ended;
  }
}
