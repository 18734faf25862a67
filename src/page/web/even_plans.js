// The plans of the program: for each number of moved circuits the least spread; each can be tried on. And
// the circuits that no plan moves, each with its reason.
import { h, fill, amps, counted } from "./dom.js";
import { get, Refused } from "./api.js";
import { furthest } from "./even_strip.js";
import { Formulas } from "./even_formulas.js";
import { Limits } from "./even_limits.js";

// A plan's moves as the page tries them. Half of a tandem breaker names its legs.
const moves_of = (plan) =>
  plan.moved.map((m) => ({
    circuit: m.circuit,
    space: m.to_space,
    panel: m.panel,
    at_once: true,
    ...(m.names_legs && { legs: m.to_leg.split(",") }),
  }));
const as_words = (legs) => legs.replaceAll(",", " and ");

function moved_row(m, many_panels) {
  const leg =
    m.from_leg === m.to_leg
      ? `stays on ${as_words(m.to_leg)}`
      : `${as_words(m.from_leg)} to ${as_words(m.to_leg)}`;
  return h(
    "li",
    null,
    h("b", null, m.circuit),
    many_panels && ` (${m.panel})`,
    `: space ${m.from_space} to ${m.to_space}, ${leg}`,
    !m.counted && "; it only slides, and is not counted",
  );
}

export class Plans {
  #app;
  #trying;
  #balance = null;
  #asked = 0;
  #keep = h("input", { type: "checkbox", id: "ev-keep", onchange: () => this.house() });
  #said = h("p.note", { role: "status" });
  #list = h("ol.ev-plans");
  #fixed = h("div.ev-fixed");
  #formulas = new Formulas();
  #limits = new Limits();
  #buttons = [];

  constructor(app, trying) {
    this.#app = app;
    this.#trying = trying;
    this.root = h(
      "section.ev-plans-of",
      { "aria-label": "Plans" },
      h("h3", null, "Plans"),
      h("label.ev-keep", { for: "ev-keep" }, this.#keep, " Leave empty spaces empty (keep spares)"),
      this.#said,
      this.#list,
      this.#fixed,
      this.#limits.root,
      this.#formulas.root,
    );
  }

  async house() {
    const asked = ++this.#asked;
    this.#said.textContent = "The plans are being worked out.";
    for (const button of this.#buttons) button.disabled = true; // of an earlier house
    try {
      const answer = await get(`api/balance?keep_spares=${this.#keep.checked ? 1 : 0}`);
      if (asked === this.#asked) this.#show(answer.balance);
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      if (asked !== this.#asked) return;
      fill(this.#list);
      this.#said.textContent = "No plans could be worked out.";
      this.#app.refused(reason);
    }
  }

  #show(balance) {
    const focused = document.activeElement?.dataset?.plan;
    this.#balance = balance;
    this.#buttons = balance.plans.map((plan, i) =>
      h("button", { type: "button", "data-plan": i + 1, onclick: () => this.#try_on(plan, i) }, "Try on"),
    );
    fill(
      this.#list,
      balance.plans.map((plan, i) => this.#row(plan, i)),
    );
    this.#said.textContent = this.#words(balance);
    fill(
      this.#fixed,
      balance.fixed.length > 0 &&
        h(
          "details",
          null,
          h("summary", null, `${counted(balance.fixed.length, "circuit")} that no plan moves`),
          h(
            "ul",
            null,
            balance.fixed.map((one) => h("li", null, h("b", null, one.circuit), `: ${one.why}`)),
          ),
        ),
    );
    this.#limits.show(balance);
    this.#formulas.show(balance, this.#app.house.legs);
    this.trial();
    if (focused) this.#buttons[focused - 1]?.focus();
  }
  #words({ plans, complete, searched_moves, measured }) {
    const counted_so =
      measured.length > 0 &&
      ` Counted as found with their clamp readings: ${measured.map((one) => one.circuit).join(", ")}.`;
    const bound = complete
      ? ""
      : ` Plans of more than ${counted(searched_moves, "move")} were not looked for.`;
    const found =
      plans.length > 0
        ? "For each number of moved circuits, the least that the legs can be apart in the worst scenario."
        : "No plan was found that brings the legs closer together.";
    return found + bound + (counted_so || "");
  }
  #row(plan, i) {
    const worst = furthest(plan.scenarios);
    const panels = this.#app.house.panels.length > 1;
    return h(
      "li.ev-plan.plate",
      { "data-plan-of": i + 1 },
      h(
        "div.ev-plan-head",
        null,
        h(
          "p",
          null,
          h("b", null, `Plan ${i + 1}: ${counted(plan.moves, "circuit")} to move`),
          h("br"),
          h("b", null, `${amps(plan.spread_amps)} apart`),
          ` at most (${worst.scenario})`,
          h("br"),
          h(
            "span.note",
            null,
            plan.proven
              ? `Proven: no choice of ${counted(plan.moves, "circuit")} does better.`
              : "Not proven: another choice could do better.",
          ),
        ),
        this.#buttons[i],
      ),
      h(
        "details",
        null,
        h("summary", null, "What moves where"),
        h(
          "ul.ev-moved",
          null,
          plan.moved.map((m) => moved_row(m, panels)),
        ),
      ),
    );
  }

  // Which plan is tried, if it is one.
  trial() {
    this.#balance?.plans.forEach((plan, i) => {
      const on = this.#trying.is(moves_of(plan));
      this.#buttons[i].setAttribute("aria-pressed", String(on));
      this.#buttons[i].textContent = on ? "Tried on" : "Try on";
    });
  }
  async #try_on(plan, i) {
    if ((await this.#trying.take(moves_of(plan))) !== "refused")
      this.#app.say(`Plan ${i + 1} is tried: ${amps(plan.spread_amps)} apart at most.`);
  }
}
