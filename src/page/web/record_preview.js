// The record as a page, in a frame without scripts. An earlier one that still stands there is marked.
import { h, fill } from "./dom.js";

const kCalm = 600; // milliseconds after the last change of the house

export class Preview {
  #app;
  #timer = 0;
  #wanted = ""; // the address that is wanted, and that is there
  #there = "";
  #loading = new AbortController();
  #said = h("p.note", { role: "status" });
  #trouble = h("p.rc-refused", { role: "alert" });
  #title = "";
  #holder = h("div.rc-paper");
  root = h(
    "section.rc-preview",
    { "aria-label": "Preview" },
    h("h3", null, "Preview"),
    this.#said,
    this.#trouble,
    this.#holder,
  );

  constructor(app) {
    this.#app = app;
  }
  leave() {
    clearTimeout(this.#timer);
    this.#loading.abort();
  }

  // asked: parameters of api/record; title: of the frame.
  want(asked, title) {
    const query = new URLSearchParams({ ...asked, form: "html", proof: "0" });
    const wanted = `api/record?${query}&revision=${this.#app.house.revision}`;
    if (wanted === this.#wanted) return;
    this.#wanted = wanted;
    this.#title = `${title}, preview`;
    this.#stale();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#load(), this.#there ? kCalm : 0);
  }
  #stale() {
    if (!this.#there) {
      this.#said.textContent = "The preview is being made.";
      return;
    }
    this.#holder.classList.add("stale");
    this.#said.textContent =
      "What stands below is of before the latest change; the new preview is being made.";
  }
  // Asked for first, so that a refusal shows its sentence here and no frame full of JSON.
  async #load() {
    const wanted = this.#wanted;
    this.#loading.abort();
    this.#loading = new AbortController();
    try {
      const response = await fetch(wanted, { signal: this.#loading.signal, cache: "no-store" });
      const fault = response.ok ? null : (await response.json().catch(() => null))?.error;
      if (wanted !== this.#wanted) return;
      if (!response.ok) return this.#refuse(fault);
      fill(this.#trouble);
      this.#there = wanted;
      this.#show();
    } catch (reason) {
      if (reason.name !== "AbortError")
        this.#refuse([{ where: "evenleg", what: "the program cannot be reached", remedy: "" }]);
    }
  }
  // In a frame of its own each time: another address in the same frame would be a step of the page's history.
  #show() {
    const frame = h("iframe", {
      sandbox: "",
      title: this.#title,
      src: this.#there,
      "data-preview": "",
      onload: () => this.#loaded(),
    });
    fill(this.#holder, frame);
  }
  #refuse(faults) {
    this.#said.textContent = this.#there
      ? "What stands below is of before the latest change."
      : "No preview.";
    fill(
      this.#trouble,
      (faults ?? []).map((f) => `${f.where}: ${f.what}${f.remedy && `; ${f.remedy}`}.`).join(" "),
    );
  }
  #loaded() {
    if (this.#there !== this.#wanted) return;
    this.#holder.classList.remove("stale");
    this.#holder.dataset.revision = String(this.#app.house.revision);
    this.#said.textContent = "Computed without the proofs, and it says so; a saved record has them.";
  }
}
