// What could fail after what, by the loads' own laws, step by step: one consistent course.
import { h, fill, volts } from "./dom.js";
import { Feed } from "./feed.js";
import { step_sentences, points_sentence, status_word } from "./watch_course.js";
import { Ruler, leg_fills, write } from "./watch_ruler.js";

const kCalm = 200; // milliseconds after the last change of the state

// A load's row in the steps, updated from step to step.
class Row {
  #volts = h("span.w-volts");
  #word = h("span.w-word");
  #ruler = new Ruler();

  constructor(name) {
    this.root = h(
      "li.w-row.w-course",
      null,
      h("span.w-of", null, h("span.w-name", null, name)),
      this.#ruler.root,
      h("span.w-figures", null, this.#volts, this.#word),
    );
    this.#volts.dataset.cascadeVolts = name;
  }
  show(seen, before, load, scale, legs) {
    const out = seen.status !== "running";
    const past = seen.past_failing || seen.volts > load.withstands;
    const changed = before !== undefined && before.status !== seen.status;
    const is = out ? "off" : past ? "on past" : "on";
    this.root.className = `w-row w-course ${is}${changed ? " changed" : ""}`;
    const known = seen.status === "failed open" ? null : seen.volts;
    write(this.#volts, volts(known));
    write(this.#word, `${changed ? "now " : ""}${status_word(seen, load.withstands)}`);
    this.#ruler.show({
      end: scale.end,
      nominal: load.nominal_volts,
      limit: load.withstands,
      volts: known,
      fills: leg_fills(legs, load.legs),
    });
  }
}

export class Cascade {
  #app;
  #feed;
  #timer = 0;
  #told = null; // the answer of api/behaviour
  #state = null; // the answer of api/state that it belongs to
  #scale = null;
  #asked = ""; // what it was asked for
  #step = 0;
  #rows = new Map();
  #said = h("p.w-step-said", { "aria-live": "polite", id: "cascade-step" });
  #points = h("p");
  #steps = h("ol.w-steps");
  #list = h("ul.w-course-loads");
  #back = h(
    "button",
    { type: "button", id: "cascade-back", onclick: () => this.#go(this.#step - 1) },
    "Back",
  );
  #next = h(
    "button",
    { type: "button", id: "cascade-next", onclick: () => this.#go(this.#step + 1) },
    "Next",
  );
  #wait = h("p.note");
  #stepper = h(
    "div.w-stepper",
    {
      tabindex: "0",
      role: "group",
      "aria-label": "Steps; arrow keys go from one to the next",
      onkeydown: (e) => this.#key(e),
    },
    this.#points,
    h("div.w-bar-of", null, this.#back, this.#next),
    this.#said,
    this.#steps,
    this.#list,
  );
  root = h(
    "details.w-cascade",
    { id: "cascade", ontoggle: () => this.#ask() },
    h("summary", null, "What could fail after what"),
    h(
      "p.note",
      null,
      "By each load's own law instead of a constant impedance. It is one consistent course, not a " +
        "prediction: which of two fails first in fact can depend on the make. Computed, not measured.",
    ),
    this.#wait,
    this.#stepper,
  );

  constructor(app) {
    this.#app = app;
    this.#feed = new Feed("api/behaviour", {
      answered: (answer) => this.#take(answer),
      refused: (reason) => this.#refuse(reason),
    });
  }
  leave() {
    clearTimeout(this.#timer);
    this.#feed.forget();
  }

  // A new state: the steps of the old one do not stand beside it.
  show(answer, scale, app, body) {
    this.#state = answer;
    this.#scale = scale;
    this.root.hidden = !answer.open;
    const asked = JSON.stringify([answer.revision, body]);
    if (asked === this.#asked && answer.open) return;
    this.#asked = asked;
    this.#told = null;
    this.#stepper.hidden = true;
    this.#feed.forget();
    write(this.#wait, "");
    clearTimeout(this.#timer);
    if (answer.open) this.#timer = setTimeout(() => this.#ask(), kCalm);
  }
  #ask() {
    if (!this.root.open || !this.#state?.open || this.#told) return;
    write(this.#wait, "It is being worked out.");
    this.#feed.want(JSON.parse(this.#asked)[1]);
  }
  #refuse(reason) {
    write(this.#wait, reason.faults.map((one) => `${one.where}: ${one.what}`).join("; "));
  }

  #take(answer) {
    if (answer.revision !== this.#state.revision) return;
    this.#told = answer;
    this.#step = 0;
    const { cascade } = answer.behaviour;
    write(this.#wait, nothing_sentence(answer));
    this.#stepper.hidden = !answer.connected || !answer.any_law || cascade.length === 0;
    if (this.#stepper.hidden) return;
    write(this.#points, points_sentence(answer.behaviour));
    fill(
      this.#steps,
      cascade.map((step, i) =>
        h(
          "li",
          null,
          h(
            "button.w-step",
            { type: "button", onclick: () => this.#go(i) },
            `${i + 1}. ${step_sentences(step, cascade[i - 1]).join(" ")}`,
          ),
        ),
      ),
    );
    this.#rows.clear();
    fill(
      this.#list,
      cascade[0].loads.map((seen) => {
        this.#rows.set(seen.load, new Row(seen.load));
        return this.#rows.get(seen.load).root;
      }),
    );
    this.#draw();
  }
  #go(step) {
    const { length } = this.#told.behaviour.cascade;
    this.#step = Math.max(0, Math.min(length - 1, step));
    this.#draw();
  }
  #key(event) {
    const way = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (!way || !this.#told) return;
    event.preventDefault();
    this.#go(this.#step + way);
  }
  #draw() {
    const { cascade } = this.#told.behaviour;
    const step = cascade[this.#step];
    const before = cascade[this.#step - 1];
    write(
      this.#said,
      `Step ${this.#step + 1} of ${cascade.length}. ${step_sentences(step, before).join(" ")}`,
    );
    this.#turn(cascade.length);
    [...this.#steps.children].forEach((item, i) =>
      item.firstChild.setAttribute("aria-current", i === this.#step ? "step" : "false"),
    );
    const loads = new Map(this.#state.loads.map((load) => [load.load, load]));
    const was = new Map((before?.loads ?? []).map((seen) => [seen.load, seen]));
    for (const seen of step.loads) {
      const load = loads.get(seen.load);
      if (load)
        this.#rows.get(seen.load)?.show(seen, was.get(seen.load), load, this.#scale, this.#app.house.legs);
    }
  }
  // A button that is about to be disabled hands the focus on.
  #turn(length) {
    const [first, last] = [this.#step === 0, this.#step === length - 1];
    const focused = document.activeElement;
    this.#back.disabled = first;
    this.#next.disabled = last;
    if ((focused === this.#back && first) || (focused === this.#next && last)) this.#stepper.focus();
  }
}

function nothing_sentence(answer) {
  if (!answer.connected) return "No load beyond it is on.";
  if (!answer.any_law)
    return "Every load that is on beyond it is a constant impedance: the volts above are its behaviour.";
  return "";
}
