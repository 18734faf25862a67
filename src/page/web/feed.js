// Questions to the program, one at a time: while one is on its way only the latest wanted waits
// behind it, so that fast clicks and a dragged slider never pile up.
import { post, Refused } from "./api.js";

export class Feed {
  #path;
  #told;
  #wanted = null;
  #busy = false;
  #leaving = new AbortController();

  // told: {answered(answer, body), refused(reason)}
  constructor(path, told) {
    this.#path = path;
    this.#told = told;
  }

  want(body) {
    this.#wanted = body;
    if (!this.#busy) this.#run();
  }
  // Nothing more is wanted; what is on its way is not shown.
  forget() {
    this.#wanted = null;
    this.#leaving.abort();
    this.#leaving = new AbortController();
  }

  async #run() {
    this.#busy = true;
    try {
      while (this.#wanted) await this.#one();
    } finally {
      this.#busy = false;
    }
  }
  async #one() {
    const body = this.#wanted;
    const { signal } = this.#leaving;
    this.#wanted = null;
    try {
      const answer = await post(this.#path, body, signal);
      if (!signal.aborted && !this.#overtaken(body)) this.#told.answered(answer, body);
    } catch (reason) {
      if (signal.aborted) return;
      if (!(reason instanceof Refused)) throw reason;
      if (!this.#wanted) this.#told.refused(reason);
    }
  }
  // A resistance on its way is worth showing while another follows; other loads are not, since
  // their switches stand differently already.
  #overtaken(body) {
    if (!this.#wanted) return false;
    return JSON.stringify({ ...body, ohms: 0 }) !== JSON.stringify({ ...this.#wanted, ohms: 0 });
  }
}
