// What is typed and not saved, kept in this window over a reload.
const kStore = "enter-drafts";

function all() {
  return JSON.parse(sessionStorage.getItem(kStore) ?? "{}");
}
function store(drafts) {
  sessionStorage.setItem(kStore, JSON.stringify(drafts));
}

export const draft = (id) => all()[id] ?? null;

export function keep_draft(id, value) {
  const drafts = all();
  if (value === null) delete drafts[id];
  else drafts[id] = value;
  store(drafts);
}

export function rename_draft(from, to) {
  const drafts = all();
  if (!(from in drafts)) return;
  drafts[to] = drafts[from];
  delete drafts[from];
  store(drafts);
}

export const draft_ids = () => Object.keys(all());
