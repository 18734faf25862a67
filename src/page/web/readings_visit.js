// The texts of the visit, which head the record; and the findings of whoever was on site.
import { h, fill, counted } from "./dom.js";
import { Entry } from "./readings_entry.js";
import { Entries } from "./readings_entries.js";

const kVisit = [
  ["complaint", "The complaint, in the occupant's own words", "long"],
  ["by", "By"],
  ["licence", "Licence"],
  ["client", "Client"],
  ["job", "Job number"],
  ["date", "Date of the visit"],
  ["arrived", "Arrived"],
  ["left", "Left"],
  ["utility", "Utility"],
  ["weather", "Weather"],
  ["access", "Access"],
  ["extent", "How far it reaches: a lamp, a room, a circuit, half the house, the whole house"],
  ["light", "What lights do: dim, brighten, or some dim while others brighten"],
  ["when", "When: time of day, how often, since when"],
  ["follows", "Which appliance or motor it follows"],
  ["lasting", "Momentary, or lasting"],
  ["neighbours", "Whether neighbours see it at the same moment"],
  ["signs", "Tingles, a burnt smell, buzzing, warm outlets, failed equipment", "long"],
  ["recent_work", "Recent work", "long"],
  ["damaged", "Damaged", "long"],
  ["utility_contact", "Utility contact", "long"],
  ["utility_job", "Utility's job number"],
  ["utility_arrived", "Crew arrived"],
  ["utility_found", "What the crew found and did", "long"],
  ["work_done", "Work done", "long"],
  ["tests", "Tests after the work", "long"],
  ["authorised", "Authorised by the client"],
  ["declined", "Declined by the client"],
  ["left_as", "Left energised, partly, or off"],
  ["handed_over", "Handed over", "long"],
  ["photos", "Photos"],
  ["attachments", "Attachments"],
  ["event", "The event", "long"],
];

// Every text of the visit, those that have a place in the record and any others it has.
export class Visit {
  #app;
  #made = "";
  #entry = null;
  #count = h("span.note");
  #body = h("div");
  // Any other text: the record has it under "Also noted".
  #named = ["name", "text"].map((what) =>
    h("input", { type: "text", id: `r-further-${what}`, autocomplete: "off" }),
  );
  #further = h(
    "form.r-card.r-further",
    { onsubmit: (event) => this.#add(event) },
    h("h4", null, "Another text"),
    h("div.r-field", null, h("label", { for: "r-further-name" }, "Name"), this.#named[0]),
    h("div.r-field", null, h("label", { for: "r-further-text" }, "Text"), this.#named[1]),
    h("div.r-acts", null, h("button", { type: "submit" }, "Add")),
  );
  root = h(
    "details.r-folded",
    { "data-part": "visit" },
    h("summary", null, h("h3", null, "The visit"), " ", this.#count),
    this.#body,
  );

  constructor(app) {
    this.#app = app;
  }
  get #visit() {
    return this.#app.house.house.visit ?? {};
  }
  house() {
    const others = Object.keys(this.#visit).filter((key) => !kVisit.some(([known]) => known === key));
    const made = JSON.stringify(others);
    this.#count.textContent = counted(Object.keys(this.#visit).length, "text");
    if (made === this.#made) return this.#entry.take(null, this.#visit);
    this.#made = made;
    this.#build(others);
  }
  #build(others) {
    const specs = [...kVisit, ...others.map((key) => [key, key, "long"])].map(([key, label, kind]) => ({
      key,
      label,
      kind,
    }));
    const typed = this.#entry?.typed() ?? JSON.parse(sessionStorage.getItem("draft-visit") ?? "{}");
    this.#entry = new Entry(
      this.#app,
      {
        kind: "visit",
        thing: "the visit",
        single: true,
        specs,
        layout: (entry) =>
          h(
            "div.r-card",
            null,
            entry.fields.map((field) => field.root),
            entry.note,
          ),
        label: () => "Change the visit's texts",
        kept: () => this.#entry && sessionStorage.setItem("draft-visit", JSON.stringify(this.#entry.typed())),
        along: (entry, event) => {
          if (event.key === "Enter" && event.target.localName === "input") entry.save();
        },
      },
      null,
      this.#visit,
    );
    this.#entry.retype(typed);
    fill(
      this.#body,
      h(
        "p.note",
        null,
        "Free text, all of it optional; it is saved when you leave it. What is missing is a line " +
          "to fill in by hand in the record.",
      ),
      this.#entry.root,
      this.#further,
    );
  }
  async #add(event) {
    event.preventDefault();
    const [name, text] = this.#named.map((input) => input.value.trim());
    if (!name || !text) return this.#app.say("Give the text and a name for it.");
    const set = { verb: "set", kind: "visit", name: "", set: { [name]: text } };
    if (!(await this.#app.edit(`Add "${name}" to the visit`, [set]))) return;
    for (const input of this.#named) input.value = "";
    this.#named[0].focus();
  }
}

export class Findings {
  #app;
  #count = h("span.note");
  #entries;
  root;

  constructor(app) {
    this.#app = app;
    const words = app.words.keys.finding;
    const urgency = words.find((one) => one.key === "urgency").choices;
    this.#entries = new Entries(app, {
      kind: "finding",
      thing: "finding",
      specs: [
        { key: "where", label: "Where" },
        { key: "observation", label: "Observation", kind: "long" },
        { key: "implication", label: "Implication", kind: "long" },
        { key: "recommendation", label: "Recommendation", kind: "long" },
        { key: "urgency", label: "Urgency", kind: "choice", choices: () => urgency },
      ],
      layout: (entry) => this.#card(entry),
      numbered: (entry) => entry.tell_number(entry.root),
      lacks: (entry) => (entry.value("observation") ? "" : "it has no observation"),
      label: (entry) => (entry.adds ? "Add a finding" : `Change finding ${entry.number}`),
    });
    this.root = h(
      "details.r-folded",
      { "data-part": "findings" },
      h("summary", null, h("h3", null, "Findings on site"), " ", this.#count),
      h(
        "p.note",
        null,
        "What you saw yourself, in your words; the program's own findings are not written here.",
      ),
      this.#entries.list,
    );
    this.#tell();
  }
  #card(entry) {
    const title = h("h4");
    const remove = h("button.quiet", {
      type: "button",
      "data-action": "remove",
      onclick: () => this.#entries.remove(entry),
    });
    entry.tell_number = (root) => {
      const adds = entry.number === null;
      root.dataset.finding = adds ? "new" : String(entry.number);
      title.textContent = adds ? "New finding" : `Finding ${entry.number}`;
      root.setAttribute("aria-label", title.textContent);
      remove.textContent = adds ? "Discard" : "Remove";
    };
    return h(
      "div.r-card.plate",
      { role: "group" },
      title,
      entry.fields.map((field) => field.root),
      h(
        "div.r-acts",
        null,
        h("button", { type: "button", "data-action": "save", onclick: () => entry.save() }, "Save"),
        remove,
      ),
      entry.note,
    );
  }
  house() {
    this.#entries.house();
    this.#tell();
  }
  #tell() {
    this.#count.textContent = counted((this.#app.house.house.finding ?? []).length, "finding");
  }
}
