// The house's name and free texts: any key, so that nothing of a description is out of reach.
import { h } from "./dom.js";
import { Field } from "./enter_fields.js";
import { RecordForm } from "./enter_form.js";
import { label_of } from "./enter_labels.js";

const kUsual = ["name", "address", "built", "notes"];

const text_field = (key) =>
  new Field({
    keys: [key],
    label: label_of("house", key),
    control:
      key === "notes"
        ? h("textarea", { name: key, rows: 3 })
        : h("input", { name: key, autocomplete: "off" }),
  });

// What a further text is called; by itself it says nothing.
class KeyField extends Field {
  constructor() {
    super({
      keys: ["new_key"],
      label: "A further text: what it is",
      control: h("input", { name: "new_key", autocomplete: "off" }),
    });
  }
  get key() {
    return this.read().toLowerCase().replace(/\W+/g, "_");
  }
  edits() {
    return { set: {}, clear: [] };
  }
}
class FurtherField extends Field {
  constructor(key_field) {
    super({
      keys: ["new_text"],
      label: "Its text",
      control: h("input", { name: "new_text", autocomplete: "off" }),
    });
    this.key_field = key_field;
  }
  edits(draft) {
    return { set: draft && this.key_field.key ? { [this.key_field.key]: draft } : {}, clear: [] };
  }
}

// again(): a further text was saved, and is to have a field of its own.
export function texts_form(app, again) {
  const others = Object.keys(app.house.house.house).filter((key) => !kUsual.includes(key));
  const key = new KeyField();
  const has_field = (one) => kUsual.includes(one) || others.includes(one);
  const saved = () => {
    if (!Object.keys(app.house.house.house).every(has_field)) again();
  };
  return new RecordForm(app, {
    id: "house:",
    kind: "house",
    name: "",
    main: [...kUsual, ...others].map(text_field),
    more: [key, new FurtherField(key)],
    saved,
  });
}
