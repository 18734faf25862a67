// A text field with a list of what it could be, sought in names and descriptions as one types.
import { h, fill } from "./dom.js";

const kMost = 40; // shown at once; more letters give fewer

export class Combobox {
  #words;
  #shown = [];
  #active = -1;
  onpick = () => {};

  constructor({ name, words, id }) {
    this.#words = words.map((one) => ({ ...one, sought: `${one.kind} ${one.description}`.toLowerCase() }));
    this.list = h("ul.e-options", {
      role: "listbox",
      id: `${id}-list`,
      hidden: true,
      "aria-label": "Kinds that match",
    });
    this.input = h("input", {
      name,
      id,
      role: "combobox",
      autocomplete: "off",
      "aria-autocomplete": "list",
      "aria-expanded": "false",
      "aria-controls": `${id}-list`,
      placeholder: "kettle, heater, lamp …",
      oninput: () => this.#open(),
      onkeydown: (event) => this.#key(event),
      onclick: () => this.#open(),
      onblur: () => this.#close(),
    });
    this.root = h("span.e-combobox", null, this.input, this.list);
  }

  #matches() {
    const parts = this.input.value.toLowerCase().split(/\s+/).filter(Boolean);
    const found = this.#words.filter((one) => parts.every((part) => one.sought.includes(part)));
    const rank = (one) =>
      one.kind.startsWith(parts[0] ?? "") ? 0 : one.kind.includes(parts[0] ?? "") ? 1 : 2;
    return found.sort((a, b) => rank(a) - rank(b)).slice(0, kMost);
  }
  #open() {
    this.#shown = this.#matches();
    const typed = this.input.value.trim() !== "";
    fill(
      this.list,
      this.#shown.map((one, i) =>
        h(
          "li",
          {
            role: "option",
            id: `${this.list.id}-${i}`,
            "data-kind": one.kind,
            "aria-selected": "false",
            onpointerdown: (event) => event.preventDefault(),
            onclick: () => this.#pick(i),
          },
          h("b", null, one.kind),
          " ",
          h("span", null, one.description),
        ),
      ),
    );
    this.list.hidden = this.#shown.length === 0;
    this.input.setAttribute("aria-expanded", String(!this.list.hidden));
    this.#point(typed && this.#shown.length > 0 ? 0 : -1);
    this.list.scrollIntoView({ block: "nearest" });
  }
  #close() {
    this.list.hidden = true;
    this.input.setAttribute("aria-expanded", "false");
    this.#point(-1);
  }
  #point(i) {
    this.list.children[this.#active]?.setAttribute("aria-selected", "false");
    this.#active = i;
    const option = this.list.children[i];
    if (!option) return this.input.removeAttribute("aria-activedescendant");
    option.setAttribute("aria-selected", "true");
    this.input.setAttribute("aria-activedescendant", option.id);
    this.list.scrollTop = option.offsetTop - this.list.clientHeight / 2;
  }
  #pick(i) {
    this.input.value = this.#shown[i].kind;
    this.#close();
    this.input.dispatchEvent(new Event("input", { bubbles: true }));
    this.#close(); // the event opens it
    this.onpick(this.#words.find((one) => one.kind === this.input.value));
  }
  #key(event) {
    const open = !this.list.hidden;
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step) {
      if (!open) this.#open();
      else this.#point((this.#active + step + this.#shown.length) % this.#shown.length);
    } else if (event.key === "Enter" && open && this.#active >= 0) {
      this.#pick(this.#active);
    } else if (event.key === "Escape" && open) {
      event.stopPropagation(); // the form stays
      this.#close();
    } else {
      return;
    }
    event.preventDefault();
  }
}
