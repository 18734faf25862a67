// The record as a file. The proofs take their time; a PDF needs its renderer, which is asked for first.
import { h, fill } from "./dom.js";

const kForms = [
  ["html", "HTML", "one page that needs nothing else"],
  ["pdf", "PDF", "the same page, for paper"],
  ["md", "Markdown", "to paste"],
  ["txt", "Text", "to paste"],
  ["xlsx", "XLSX", "a workbook of all sheets"],
  ["csv", "CSV", "all sheets, one after the other"],
  ["json", "JSON", "all of it, as shown and unrounded"],
];

export class Save {
  #app;
  #asked = {};
  #links;
  #waits = new AbortController();
  #said = h("p.note", { role: "status" });
  #trouble = h("p.rc-refused", { role: "alert" });

  constructor(app) {
    this.#app = app;
    this.#links = kForms.map(([form, name, note]) =>
      h(
        "a.button.rc-file",
        {
          "data-save": form,
          download: "",
          href: "#record",
          onclick: (event) => this.#clicked(event, form, name),
        },
        h("b", null, name),
        h("span.note", null, note),
      ),
    );
    this.root = h(
      "section.rc-save",
      { "aria-label": "Save" },
      h("h3", null, "Save"),
      h(
        "p.note",
        null,
        "A saved record has every proof, which can take from seconds to minutes; the download begins " +
          "when it is done.",
      ),
      h("div.rc-files", null, this.#links),
      this.#said,
      this.#trouble,
    );
  }
  choose(asked) {
    this.#asked = asked;
    fill(this.#trouble);
    for (const link of this.#links)
      link.href = this.#address({ form: link.dataset.save, proof: "1", save: "1" });
  }
  leave() {
    this.#waits.abort();
  }
  #address(more) {
    return `api/record?${new URLSearchParams({ ...this.#asked, ...more })}`;
  }

  // A link that is refused would save the refusal under the record's name: what could refuse is asked first,
  // without the proofs; then the link does what it says.
  async #clicked(event, form, name) {
    const link = event.currentTarget;
    if (link.dataset.checked) {
      delete link.dataset.checked;
      return this.#tell(
        `The record as ${name} is being made with its proofs; the download begins by itself.`,
      );
    }
    event.preventDefault();
    if (link.getAttribute("aria-disabled") === "true") return;
    fill(this.#trouble);
    link.setAttribute("aria-disabled", "true");
    this.#tell(`The record as ${name} is asked for.`);
    const faults = await this.#faults_of(form);
    link.removeAttribute("aria-disabled");
    if (faults === null) return;
    if (faults.length > 0) {
      this.#tell("Nothing was saved.");
      return fill(
        this.#trouble,
        faults.map((f) => `${f.where}: ${f.what}${f.remedy && `; ${f.remedy}`}.`).join(" "),
      );
    }
    link.dataset.checked = "yes";
    link.click();
  }
  #tell(text) {
    this.#said.textContent = text;
    this.#app.say(text);
  }
  // [] where it would be given; null where nobody waits for it any more.
  async #faults_of(form) {
    this.#waits.abort();
    this.#waits = new AbortController();
    try {
      const response = await fetch(this.#address({ form, proof: "0" }), {
        signal: this.#waits.signal,
        cache: "no-store",
      });
      if (response.ok) {
        await response.body?.cancel();
        return [];
      }
      return (
        (await response.json().catch(() => null))?.error ?? [
          { where: "record", what: "it was refused", remedy: "" },
        ]
      );
    } catch (reason) {
      if (reason.name === "AbortError") return null;
      return [
        {
          where: "evenleg",
          what: "the program cannot be reached",
          remedy: "see whether it still runs in its terminal",
        },
      ];
    }
  }
}
