// The house as it runs: loads switched, a neutral opened or loosened, and every volt that follows.
import { h, fill, amps, counted } from "./dom.js";
import { caution_block } from "./cautions.js";
import { Feed } from "./feed.js";
import { ruler_end, write } from "./watch_ruler.js";
import { open_neutral } from "./watch_audit.js";
import { Changes, changes_in } from "./watch_changes.js";
import { Legs } from "./watch_legs.js";
import { Loads } from "./watch_loads.js";
import { Neutrals } from "./watch_neutrals.js";
import { WhichState } from "./watch_state.js";
import { Worst } from "./watch_worst.js";
import { Cascade } from "./watch_cascade.js";
import { Ranking } from "./watch_ranking.js";
import { Findings } from "./watch_findings.js";
import { unready } from "./watch_unready.js";

export const title = "Watch";

const kCalm = 700; // milliseconds after the last change, before it is said

class Watch {
  #root;
  #app;
  #answer = null;
  #end = 0;
  #timer = 0;
  #say = false; // the next answer follows something that was switched
  #feed = new Feed("api/state", {
    answered: (answer, body) => this.#show(answer, body),
    refused: (reason) => this.#refuse(reason),
  });
  #computed = h("p.w-computed");
  #caution = h("div");
  #unready = h("div");
  #results = h("div.w-results");

  constructor(root, app) {
    this.#root = root;
    this.#app = app;
    this.legs = new Legs();
    this.loads = new Loads((names, on) => this.#switch(names, on));
    this.changes = new Changes((name) => this.loads.focus(name));
    this.neutrals = new Neutrals(app);
    this.worst = new Worst(app, this.neutrals);
    this.state = new WhichState(app, this.worst);
    this.cascade = new Cascade(app);
    this.ranking = new Ranking(app);
    this.findings = new Findings(app);
    fill(this.#results, this.#caution, this.#computed, this.legs.root, this.cascade.root, this.loads.root);
    this.#view = h(
      "div.w-view",
      null,
      h("h2.w-title", null, title),
      this.state.root,
      h("div.w-faults", null, this.neutrals.root, this.worst.root),
      this.#results,
      h("div.w-beside", null, this.ranking.root, this.findings.root),
    );
    fill(root, this.#unready, this.#view);
    root.dataset.answers = "0";
  }
  #view;

  house() {
    const missing = unready(this.#app);
    fill(this.#unready, missing);
    this.#view.hidden = missing !== null;
    if (missing) {
      this.#stale(true);
      return this.#feed.forget();
    }
    for (const part of [this.legs, this.loads, this.neutrals]) part.house(this.#app);
    this.audit();
    this.#tried();
    this.#ask();
  }
  trial() {
    if (this.#view.hidden) return;
    this.#say = true;
    this.#tried();
    this.#ask();
  }
  audit() {
    if (this.#view.hidden) return;
    for (const part of [this.ranking, this.findings, this.worst]) part.audit();
    this.state.trial();
    this.#tell_open();
  }
  focus() {
    const name = this.#app.focus;
    if (!name || this.#view.hidden) return;
    const place = this.#app.house.places.some((one) => one.place === name);
    (place ? this.neutrals : this.loads).focus(name);
  }
  leave() {
    clearTimeout(this.#timer);
    this.#feed.forget();
    this.cascade.leave();
  }

  #tried() {
    for (const part of [this.neutrals, this.worst, this.state]) part.trial();
  }
  #ask() {
    const { on, scenario, place, ohms, moves } = this.#app.trial;
    this.#feed.want({ on, scenario, place, ohms, moves });
  }
  // Switching begins from what is on the page, whichever state that was.
  #switch(names, on) {
    const now = this.#app.trial.on ?? this.#answer.loads.filter((load) => load.on).map((load) => load.load);
    const rest = now.filter((name) => !names.includes(name));
    this.#app.try_out({ on: on ? [...rest, ...names] : rest, scenario: null });
  }

  #show(answer, body) {
    if (answer.revision !== this.#app.house.revision) return; // the house is on its way, and asks again
    this.#answer = answer;
    this.#end = Math.max(this.#end, ruler_end(this.#app, answer));
    const scale = { end: this.#end, nominal: this.#nominal() };
    for (const part of [this.neutrals, this.legs, this.cascade, this.loads, this.worst, this.state]) {
      part.show(answer, scale, this.#app, body);
    }
    this.#tell_open();
    this.#stale(false);
    this.#root.dataset.revision = answer.revision;
    this.#root.dataset.answers = Number(this.#root.dataset.answers) + 1;
    this.#soon_said();
  }
  #nominal() {
    const { system } = this.#app.house.house.supply;
    return this.#app.words.systems.find((one) => one.system === system).nominal_volts;
  }
  // Figures of another state than the one that is asked for do not stand.
  #stale(is) {
    this.#results.hidden = is;
  }
  // With both hots of a multiwire tried on one leg its neutral is no place that can be opened any more:
  // the house is then shown with every neutral sound, and why stands above.
  #refuse(reason) {
    this.#app.refused(reason);
    const { place, moves } = this.#app.trial;
    if (place && moves.length > 0 && reason.status === 422) {
      return this.#app.try_out({ place: null, ohms: null }, { remember: false });
    }
    this.#stale(true);
  }

  #tell_open() {
    const open = this.#answer?.open ?? false;
    if (open && !this.#caution.firstChild) fill(this.#caution, caution_block(this.#app, this.changes.root));
    if (open) this.changes.show(this.#answer);
    this.#caution.hidden = !open;
    const device = open && open_neutral(this.#app, this.#app.trial.place)?.protected_by;
    const measured = this.#answer?.measured ?? [];
    write(
      this.#computed,
      "Volts and amps here are computed from the description, not measured." +
        (device ? ` A neutral-loss device is described at “${device}” that would open first.` : "") +
        (measured.length > 0 ? ` Clamp readings of ${measured.join(", ")} are not in them.` : ""),
    );
  }
  #soon_said() {
    if (!this.#say) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#say = false;
      const past = this.#answer.loads.filter((load) => load.past).length;
      const limit = past === 1 ? "it withstands" : "they withstand";
      const neutral = amps(this.#answer.service.neutral_amps);
      const { bright, dim } = changes_in(this.#answer.loads);
      const changed = this.#answer.open ? ` ${bright.length} bright, ${dim.length} dim;` : "";
      this.#app.say(`Service neutral ${neutral};${changed} ${counted(past, "load")} past what ${limit}.`);
    }, kCalm);
  }
}

export function mount(root, app) {
  const watch = new Watch(root, app);
  const heard = ["house", "trial", "audit", "focus"].map((name) => app.on(name, () => watch[name]()));
  watch.house();
  watch.focus();
  return () => {
    for (const stop of heard) stop();
    watch.leave();
  };
}
