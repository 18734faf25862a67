// What the readings support: the program's own words, never a cause. And what would be read next.
import { h, fill, amps, volts, watts, counted } from "./dom.js";
import { get, Refused } from "./api.js";
import { caution_block } from "./cautions.js";
import { what_is_missing } from "./missing.js";
import { ohms_of, conductors_of } from "./readings_ohms.js";

const list = (title, sentences) =>
  sentences.length > 0 &&
  h(
    "section",
    null,
    h("h4", null, title),
    h(
      "ul",
      null,
      sentences.map((one) => h("li", null, one)),
    ),
  );

function pattern_of(one) {
  return h(
    "li.r-pattern.plate",
    { "data-pattern": one.pattern },
    h("p", null, "consistent with ", h("b", null, one.title)),
    one.for.length > 0 && [
      h("p.note", null, "speaks for it"),
      h(
        "ul.r-for",
        null,
        one.for.map((s) => h("li", null, s)),
      ),
    ],
    one.against.length > 0 && [
      h("p.note", null, "speaks against it"),
      h(
        "ul.r-against",
        null,
        one.against.map((s) => h("li", null, s)),
      ),
    ],
    h("p.note", null, `Condition as described in: ${one.source}.`),
  );
}

const further = ({ missing, next_reading }) => {
  if (missing.length === 0 && !next_reading) return null;
  return h(
    "section.r-next",
    { "aria-label": "Readings that would tell more" },
    h("h4", null, "Readings that would tell more"),
    missing.length > 0 &&
      h(
        "ul",
        null,
        missing.map((one) =>
          h(
            "li",
            null,
            `At ${one.place}, ${one.conductors.join(", ")} are not told apart; these would: `,
            h("b", null, one.take.join("; ")),
            ".",
          ),
        ),
      ),
    next_reading && [
      h("p", null, "To part the first two: ", h("b", null, next_reading.take), "."),
      h(
        "ul",
        null,
        next_reading.shows.map((one) => h("li", null, h("i", null, one.pattern), `: ${one.sees}`)),
      ),
    ],
  );
};

const opened = (all) =>
  all.length > 0 &&
  h(
    "section",
    null,
    h("h4", null, "If that resistance sits in one joint, or opens"),
    h(
      "ul",
      null,
      all.map((one) =>
        h(
          "li",
          null,
          h("b", null, one.place),
          `: ${ohms_of(one.excess_ohms)} Ω of excess; at its neutral's highest current, ` +
            `${amps(one.highest_amps)}, ${watts(one.watts)} of heat. If it opened, ` +
            `${counted(one.loads_past_their_limit, "load")} could go past what they are taken to withstand` +
            `${one.worst ? `; furthest ${one.worst}` : ""}. Computed${one.proven ? "" : ", not proven"}.`,
        ),
      ),
    ),
  );

const across_joints = (all) =>
  all.length > 0 &&
  h(
    "section",
    null,
    h("h4", null, "Across a joint"),
    h(
      "ul",
      null,
      all.map((one) =>
        h(
          "li",
          null,
          `${one.at}: `,
          h("span.measured", null, `${volts(one.volts)}, ${amps(one.amps)}`),
          `; computed ${one.ohms === null ? "–" : `${ohms_of(one.ohms)} Ω`}, ${watts(one.watts)}`,
        ),
      ),
    ),
  );

export class Support {
  #app;
  #asked = 0;
  #said = h("p.note", { role: "status" });
  #answer = h("div.r-answer");
  root = h(
    "section.r-support",
    { "aria-label": "What the readings support" },
    h("h3", null, "What the readings support"),
    this.#said,
    this.#answer,
  );

  constructor(app) {
    this.#app = app;
  }

  async house() {
    const asked = ++this.#asked;
    const missing = what_is_missing(this.#app);
    if (missing) {
      this.#said.textContent =
        "Readings are kept; what they support is worked out once the house can be answered for.";
      return fill(this.#answer, missing);
    }
    this.#answer.classList.add("stale");
    this.#said.textContent = "Being worked out.";
    try {
      const answer = await get("api/diagnose");
      if (asked === this.#asked) this.#show(answer);
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      if (asked !== this.#asked) return;
      fill(this.#answer);
      this.#said.textContent = "No answer.";
      this.#app.refused(reason);
    }
  }
  #show({ diagnose, text }) {
    this.#answer.classList.remove("stale");
    this.#answer.dataset.revision = String(this.#app.house.revision);
    this.#said.textContent =
      `Computed from ${counted(diagnose.readings_used, "reading")}, ` +
      `${counted(diagnose.values_used, "voltage")}. Readings support a pattern; they do not name its ` +
      "cause, and they do not rule out what they do not show.";
    const speaks = diagnose.patterns.length > 0 || diagnose.if_it_opened.length > 0;
    fill(
      this.#answer,
      h("p.r-verdict", { "data-verdict": "" }, diagnose.verdict),
      list("Readings that disagree, or are not to be relied on", diagnose.distrust),
      diagnose.patterns.length > 0 && h("ol.r-patterns", null, diagnose.patterns.map(pattern_of)),
      further(diagnose),
      conductors_of(diagnose),
      across_joints(diagnose.joints),
      list("Current beside the neutral", diagnose.beside_the_neutral),
      opened(diagnose.if_it_opened),
      speaks && caution_block(this.#app),
      h(
        "details",
        null,
        h("summary", null, "All of it, as `evenleg diagnose` prints it"),
        h("pre.r-text", { tabindex: "0" }, text),
      ),
    );
  }
}
