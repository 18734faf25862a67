#include "evenleg/edit/edit.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <type_traits>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/house/fields.h"
#include "evenleg/edit/edit_values.h"
#include "src/edit/name_uses.h"
#include "src/edit/remove_uses.h"

namespace evenleg {
namespace {

[[noreturn]] void refuse(std::string where, std::string what, std::string remedy) {
  throw Error(ErrorKind::Request, {std::move(where), std::move(what), std::move(remedy)});
}

template <class Record>
constexpr bool kNumbered = std::is_same_v<Record, Reading> || std::is_same_v<Record, SiteFinding>;

template <class Record>
std::string name_in(const Record& record) {
  if constexpr (std::is_same_v<Record, Reading>) {
    return record.at;
  } else if constexpr (std::is_same_v<Record, SiteFinding>) {
    return record.where.value_or("");
  } else {
    return record.name;
  }
}

std::string thing(const Edit& edit) { return fmt::format("{} \"{}\"", edit.kind, edit.name); }

// Sets what was given and takes away what was to be cleared.
template <class Record>
void set_fields(const Edit& edit, Record& record) {
  const auto fields = fields_of<Record>();
  for (const Field<Record>& field : fields) {
    const auto given = edit.given.find(std::string(field.key));
    if (given == edit.given.end()) continue;
    const Value value = value_from_text(field.type, field.key, given->second, expected(field));
    if (const auto fault = fault_of(field, value)) {
      refuse(fmt::format("--{}", field.key), *fault, "correct the value");
    }
    field.set(record, value);
  }
  for (const std::string& key : edit.clear) {
    const auto field = std::find_if(fields.begin(), fields.end(),
                                    [&](const Field<Record>& f) { return f.key == key; });
    if (field == fields.end()) {
      std::vector<std::string> known;
      for (const Field<Record>& f : fields) known.emplace_back(f.key);
      const auto close = nearest(key, known);
      refuse("--clear", fmt::format("a {} has no key \"{}\"", edit.kind, key),
             close ? "perhaps " + *close : fmt::format("name one of: {}", fmt::join(known, ", ")));
    }
    if (field->needed) {
      refuse("--clear", fmt::format("a {} cannot be without {}", edit.kind, key), "set it instead");
    }
    field->set(record, Value{});
  }
}

// What lists those of a kind.
template <class Record>
std::string shown_by() {
  if constexpr (std::is_same_v<Record, Reading>) return "`evenleg readings` shows their numbers";
  return "see `evenleg show`";
}

// "#2" is the second one; a place is enough where only one is there.
template <class Record>
std::size_t place_of(const Edit& edit, const std::vector<Record>& records) {
  if constexpr (kNumbered<Record>) {
    std::size_t number = 0;
    const std::string& name = edit.name;
    const char* end = name.data() + name.size();
    const bool numbered = name.size() > 1 && name[0] == '#' &&
                          std::from_chars(name.data() + 1, end, number).ptr == end;
    if (numbered && number >= 1 && number <= records.size()) return number - 1;
  }
  std::vector<std::size_t> found;
  std::vector<std::string> known;
  for (std::size_t i = 0; i < records.size(); ++i) {
    known.push_back(name_in(records[i]));
    if (known.back() == edit.name) found.push_back(i);
  }
  if (found.size() == 1) return found[0];
  if (found.size() > 1) {
    std::vector<std::string> numbers;
    for (std::size_t i : found) numbers.push_back(fmt::format("#{}", i + 1));
    refuse(thing(edit), fmt::format("there are {} of them", found.size()),
           fmt::format("say which by its number: {}", listed(numbers)));
  }
  const auto close = nearest(edit.name, known);
  refuse(thing(edit), fmt::format("there is no such {}", edit.kind),
         close ? fmt::format("perhaps \"{}\"", *close) : shown_by<Record>());
}

template <class Record>
void add_record(const Edit& edit, std::vector<Record>& records) {
  Edit named = edit;
  if (!edit.name.empty() || !kNumbered<Record>) named.given[name_key(edit.kind)] = {edit.name};
  Record record;
  set_fields(named, record);
  for (const Record& other : records) {
    if (kNumbered<Record> || name_in(other) != edit.name) continue;
    refuse(thing(edit), "exists already", "choose another name, or use `evenleg set`");
  }
  records.push_back(std::move(record));
}

template <class Record>
void edit_records(const Edit& edit, House& house, std::vector<Record>& records) {
  if (edit.verb == Verb::Add) return add_record(edit, records);
  std::size_t i = place_of(edit, records);
  const std::string name = name_in(records[i]);
  if (edit.verb == Verb::Remove) {
    if (edit.with_uses && !kNumbered<Record>) {
      remove_uses(house, edit.kind, name);
      i = place_of(edit, records);
    }
    const auto uses =
        kNumbered<Record> ? std::vector<std::string>{} : uses_of(house, edit.kind, name);
    if (!uses.empty()) {
      refuse(thing(edit), fmt::format("is still used by {}", listed(uses)),
             edit.with_uses ? "a reading names it or what hangs on it: change that reading first"
                            : "change or remove that first");
    }
    records.erase(records.begin() + static_cast<std::ptrdiff_t>(i));
    return;
  }
  set_fields(edit, records[i]);
  const std::string new_name = name_in(records[i]);
  if (!kNumbered<Record> && new_name != name) rename_uses(house, edit.kind, name, new_name);
}

// [service], [dwelling], [supply.transformer]: made when first set, taken away as a whole.
template <class Record>
void edit_optional(const Edit& edit, std::optional<Record>& record) {
  if (edit.verb == Verb::Remove) {
    if (!record) refuse(edit.kind, "the house has none", "there is nothing to remove");
    record.reset();
    return;
  }
  Record changed = record.value_or(Record{});
  set_fields(edit, changed);
  record = std::move(changed);
}

void edit_free_text(const Edit& edit, FreeText& texts) {
  for (const auto& [key, given] : edit.given) {
    if (given.size() > 1) refuse("--" + key, "is given more than once", "give it once");
    if (const auto fault = free_text_fault(key, given.front())) {
      refuse("--" + key, *fault, "correct the value");
    }
    texts[key] = given.front();
  }
  for (const std::string& key : edit.clear) {
    if (texts.erase(key) == 0) {
      refuse("--clear", fmt::format("the {} has no \"{}\"", edit.kind, key),
             "see `evenleg export`");
    }
  }
}

template <class Record>
std::vector<EditKey> keys() {
  std::vector<EditKey> all;
  for (const Field<Record>& field : fields_of<Record>()) {
    std::vector<std::string> choices = field.choices;
    if (field.type == FieldType::Flag) choices = {"true", "false"};
    all.push_back({std::string(field.key), expected(field), std::move(choices)});
  }
  return all;
}

}  // namespace

std::vector<std::string> edited_kinds(Verb verb) {
  std::vector<std::string> kinds{"panel", "circuit",  "multiwire", "outlet",
                                 "load",  "scenario", "reading",   "finding"};
  if (verb == Verb::Set) kinds.insert(kinds.end(), {"house", "supply", "visit"});
  if (verb != Verb::Add) kinds.insert(kinds.end(), {"service", "dwelling", "transformer"});
  return kinds;
}

bool takes_any_key(const std::string& kind) { return kind == "house" || kind == "visit"; }

bool is_single(const std::string& kind) {
  return takes_any_key(kind) || kind == "supply" || kind == "service" || kind == "dwelling" ||
         kind == "transformer";
}

std::string name_key(const std::string& kind) {
  if (kind == "reading") return "at";
  return kind == "finding" ? "where" : "name";
}

std::vector<EditKey> keys_of(const std::string& kind) {
  if (kind == "panel") return keys<Panel>();
  if (kind == "circuit") return keys<Circuit>();
  if (kind == "multiwire") return keys<Multiwire>();
  if (kind == "outlet") return keys<Outlet>();
  if (kind == "load") return keys<Load>();
  if (kind == "scenario") return keys<Scenario>();
  if (kind == "reading") return keys<Reading>();
  if (kind == "finding") return keys<SiteFinding>();
  if (kind == "supply") return keys<Supply>();
  if (kind == "service") return keys<Service>();
  if (kind == "dwelling") return keys<Dwelling>();
  if (kind == "transformer") return keys<Transformer>();
  return {};
}

void apply(const Edit& edit, House& house) {
  const std::string& kind = edit.kind;
  if (kind == "panel") return edit_records(edit, house, house.panels);
  if (kind == "circuit") return edit_records(edit, house, house.circuits);
  if (kind == "multiwire") return edit_records(edit, house, house.multiwires);
  if (kind == "outlet") return edit_records(edit, house, house.outlets);
  if (kind == "load") return edit_records(edit, house, house.loads);
  if (kind == "scenario") return edit_records(edit, house, house.scenarios);
  if (kind == "reading") return edit_records(edit, house, house.readings);
  if (kind == "finding") return edit_records(edit, house, house.findings);
  if (kind == "supply") return set_fields(edit, house.supply);
  if (kind == "service") return edit_optional(edit, house.service);
  if (kind == "dwelling") return edit_optional(edit, house.dwelling);
  if (kind == "transformer") return edit_optional(edit, house.supply.transformer);
  if (kind == "house") return edit_free_text(edit, house.about);
  if (kind == "visit") return edit_free_text(edit, house.visit);
  refuse(kind, "there is no such kind", "see `evenleg set --help`");
}

}  // namespace evenleg
