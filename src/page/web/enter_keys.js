// The field of a key of the description, by the key's type and what it may be set to.
import { h } from "./dom.js";
import { label_of, help_of } from "./enter_labels.js";
import { Combobox } from "./enter_combobox.js";
import { choices_of, reference_of } from "./enter_choices.js";
import { Field, ListField, TableField, FlagField, ChoiceField, TickField, fresh_id } from "./enter_fields.js";

// The words of a library, sought as they are typed.
class SoughtField extends Field {
  constructor(options, words) {
    const combobox = new Combobox({ name: options.keys[0], words, id: fresh_id(options.keys[0]) });
    super({ ...options, control: combobox.input });
    this.combobox = combobox;
    this.control.replaceWith(combobox.root);
    combobox.root.prepend(combobox.input);
  }
}

const input = (key, props) => h("input", { name: key, autocomplete: "off", ...props });
const is_number = (type) => type === "number" || type === "whole";

// The field of a key. `terse`: without its help.
export function field_of(app, kind, key, { terse = false } = {}) {
  const spec = app.words.keys[kind].find((one) => one.key === key);
  const options = { keys: [key], label: label_of(kind, key), help: terse ? "" : help_of(spec) };
  if (kind === "load" && key === "kind") return new SoughtField(options, app.words.load_kinds);
  const names = reference_of(app, kind, key);
  if (names) return new TickField(options, names);
  const choices = choices_of(app, kind, spec);
  if (choices) return new ChoiceField(options, choices);
  if (spec.type === "flag") return new FlagField({ ...options, control: input(key, { type: "checkbox" }) });
  if (spec.type === "spectrum") return new TableField({ ...options, control: input(key) });
  if (["numbers", "whole_list", "text_list"].includes(spec.type))
    return new ListField({ ...options, control: input(key) });
  const suggested = key === "conductor" || key === "neutral" ? { list: "e-conductors" } : {};
  return new Field({
    ...options,
    control: input(key, is_number(spec.type) ? { inputmode: "decimal" } : suggested),
  });
}
