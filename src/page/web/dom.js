// Elements made in one call, and the few words and figures that every part writes alike.

// h("p.note", {title: "…", onclick: f, hidden: true}, "text", child, [children], null)
// Text is always text: nothing here parses markup. `style` is an object of CSS properties, since
// the page's policy allows no style attribute.
export function h(tag, props, ...children) {
  const [name, ...classes] = tag.split(".");
  return filled(document.createElement(name), classes, props, children);
}

const kSvg = "http://www.w3.org/2000/svg";

export function svg(tag, props, ...children) {
  const [name, ...classes] = tag.split(".");
  return filled(document.createElementNS(kSvg, name), classes, props, children);
}

function filled(element, classes, props, children) {
  for (const one of classes) element.classList.add(one);
  for (const [key, value] of Object.entries(props ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (key === "style") for (const [k, v] of Object.entries(value)) element.style.setProperty(k, v);
    else if (key === "class") element.classList.add(...value.split(" ").filter(Boolean));
    else if (key === "value") element.value = value;
    else element.setAttribute(key, value === true ? "" : value);
  }
  put(element, children);
  return element;
}

function put(element, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    element.append(child);
  }
}

// The head of a table: [text, classes] of each column, "number" for figures.
export const table_head = (columns) =>
  h("thead", null, h("tr", null, columns.map(([text, ...classes]) => h(["th", ...classes].join("."), { scope: "col" }, text))));

// Replaces what an element holds.
export function fill(element, ...children) {
  element.replaceChildren();
  put(element, children);
  return element;
}

// A figure for people: the digits a meter of the trade shows. null: not known.
const kUnknown = "–";
export const volts = (v) => (v === null || v === undefined ? kUnknown : `${v.toFixed(1)} V`);
// Two decimals below an ampere: a lamp that is on never reads 0.0 A.
export const amps = (a) => (a === null || a === undefined ? kUnknown : `${a.toFixed(a < 0.995 && a > 0 ? 2 : 1)} A`);
export const watts = (w) => (w === null || w === undefined ? kUnknown : `${w.toFixed(0)} W`);

export function ohms(r) {
  if (r === null || r === undefined) return "open";
  if (r === 0) return "sound";
  return `${r < 0.995 ? r.toFixed(3) : r.toFixed(r < 99.5 ? 2 : 0)} Ω added`;
}

export const counted = (n, thing, things = `${thing}s`) => `${n} ${n === 1 ? thing : things}`;

// The sign of a leg: its name on its pattern (solid, hatched, dotted), as in the record's drawings.
export function leg_sign(legs, name) {
  const i = Math.max(0, legs.indexOf(name));
  return h("span.leg", { class: `leg-${(i % 3) + 1}` }, h("span.swatch", { "aria-hidden": "true" }), name);
}
