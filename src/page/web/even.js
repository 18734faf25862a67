// Even legs: what each leg carries in every scenario, the plans that bring the legs closer together, and
// the panels' faces on which a plan is tried by moving circuits.
import { h, fill } from "./dom.js";
import { what_is_missing } from "./missing.js";
import { Trying } from "./even_trying.js";
import { Strip } from "./even_strip.js";
import { Bars } from "./even_bars.js";
import { Plans } from "./even_plans.js";
import { Faces } from "./even_faces.js";
import { Carry } from "./even_carry.js";
import { MoveForm } from "./even_move_form.js";

export const title = "Even legs";

const kWhatItIs =
  "A plan, tried or written, changes the description, not the panel; moving circuits in a panel " +
  "is licensed work.";
const kWhatItIsNot =
  "Even legs lower the current that the service neutral carries in ordinary use; they do not cure a bad " +
  "neutral. A plan is arithmetic: whether breakers, spaces, conductors, AFCI and GFCI fit is for a " +
  "licensed electrician.";

class Even {
  #app;
  #missing = h("div");
  #view = h("div.ev-view");
  #tried = h("div.ev-main");

  constructor(root, app) {
    this.#app = app;
    this.trying = new Trying(app, {
      answered: (answer, supposed) => this.#show(answer, supposed),
      refused: (reason, supposed) => this.#refuse(reason, supposed),
      dropped: (reason) => this.strip.dropped(reason),
    });
    this.strip = new Strip(app, this.trying);
    this.bars = new Bars();
    this.plans = new Plans(app, this.trying);
    this.carry = new Carry(app, this.trying, () => this.#mark());
    this.faces = new Faces(app, this.carry);
    this.form = new MoveForm(app, this.trying);
    fill(
      this.#view,
      h(
        "div.ev-what",
        null,
        h("p", null, kWhatItIs),
        h(
          "details",
          null,
          h("summary", null, "What even legs do, and what they do not"),
          h("p", null, kWhatItIsNot),
        ),
      ),
      this.strip.root,
      this.strip.more,
      this.carry.banner,
      h("div.ev-side", null, this.bars.root, this.plans.root),
      fill(this.#tried, this.form.root, this.faces.root),
    );
    this.carry.watch(this.faces.root);
    fill(root, h("h2", null, title), this.#missing, this.#view);
  }

  house() {
    const none = this.#app.house.house.load.length === 0;
    const missing = what_is_missing(this.#app);
    fill(this.#missing, missing ?? (none && nothing_to_even()));
    this.#view.hidden = Boolean(missing) || none;
    if (this.#view.hidden) return this.trying.forget();
    this.strip.calm();
    this.plans.house();
    this.trying.ask();
  }
  trial() {
    if (this.#view.hidden) return;
    this.strip.calm();
    this.trying.ask();
  }
  leave() {
    this.trying.forget();
    this.carry.leave();
  }

  #show(answer, supposed) {
    this.bars.root.classList.remove("none");
    this.#tried.hidden = false;
    this.strip.show(answer, supposed);
    this.bars.show(answer, this.#app.house.legs, supposed || this.trying.moves.length > 0);
    if (supposed) return; // the faces stay as they are until something is dropped
    this.faces.show(answer.panels);
    this.form.show(answer.panels);
    this.plans.trial();
    this.#mark();
  }
  // No figure of anything but what is asked for stands.
  #refuse(reason, supposed) {
    this.bars.root.classList.add("none");
    this.#tried.hidden = !supposed;
    this.strip.refuse(reason, supposed);
  }
  #mark() {
    this.faces.mark(this.carry.carried);
  }
}

const nothing_to_even = () =>
  h(
    "section.plate",
    null,
    h(
      "p",
      null,
      "No load is entered yet, so no leg carries anything. ",
      h("a", { href: "#enter" }, "Enter loads in House"),
      ".",
    ),
  );

export function mount(root, app) {
  const even = new Even(root, app);
  const heard = ["house", "trial"].map((name) => app.on(name, () => even[name]()));
  even.house();
  return () => {
    for (const stop of heard) stop();
    even.leave();
  };
}
