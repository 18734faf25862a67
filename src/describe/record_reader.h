// One table of a description into one record of the house, by the record's field list.
#pragma once

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/fields.h"
#include "src/describe/notes.h"
#include "src/describe/toml_value.h"

namespace evenleg {

// A name or key as a message quotes it, cut to a readable length.
[[nodiscard]] std::string quoted_name(std::string_view name);

// "[supply]", or "[[panel]]" for a kind of which there may be several.
[[nodiscard]] std::string heading(std::string_view kind, bool several);

// "did you mean \"watts\"?", or where nothing is close the list of `known`, after `otherwise`.
[[nodiscard]] std::string suggestion(std::string_view text, const std::vector<std::string>& known,
                                     std::string_view otherwise);

// A value of the wrong type, and what its field takes. In a table of numbers the entry that is none.
[[nodiscard]] std::string wrong_type(std::string_view key, const toml::node& node, FieldType type,
                                     const std::string& expected);

// What to do about a value of the wrong type.
[[nodiscard]] std::string remedy_for_type(const toml::node& node, FieldType type);

// What to do about a value of the right type that its field does not take.
[[nodiscard]] std::string remedy_for_value(const toml::node& node,
                                           const std::vector<std::string>& choices);

// Do other entries build on this kind, so that nothing can be judged without its needed keys?
[[nodiscard]] bool carries_others(std::string_view kind);

struct TableToRead {
  const toml::table& table;
  Subject entry;           // its key is empty
  bool several = false;    // [[kind]]
  std::string subtable{};  // a key that holds a table of its own, read elsewhere
};

template <class Record>
void read_key(const Field<Record>& field, const toml::node& node, const TableToRead& from,
              Place place, Record& record, Notes& notes) {
  const std::optional<Value> value = value_of(node, field.type);
  std::optional<std::string> what, remedy;
  if (!value) {
    what = wrong_type(field.key, node, field.type, expected(field));
    remedy = remedy_for_type(node, field.type);
  } else if ((what = fault_of(field, *value))) {
    remedy = remedy_for_value(node, field.choices);
  } else {
    field.set(record, *value);
    return;
  }
  notes.fault(place, *what, *remedy);
  notes.is_spoiled(from.entry);
  if (field.needed && carries_others(from.entry.kind)) notes.is_incomplete();
}

template <class Record>
void report_missing(const Field<Record>& field, const TableToRead& from, Notes& notes) {
  notes.fault(place_of(from.table.source()),
              fmt::format("this {} has no {}", heading(from.entry.kind, from.several), field.key),
              fmt::format("add {}, which must be {}", field.key, expected(field)));
  notes.is_spoiled(from.entry);
  if (carries_others(from.entry.kind)) notes.is_incomplete();
}

template <class Record>
void report_unknown_keys(const TableToRead& from, Notes& notes) {
  std::vector<std::string> known;
  for (const Field<Record>& field : fields_of<Record>()) known.emplace_back(field.key);
  if (!from.subtable.empty()) known.push_back(from.subtable);
  for (const auto& [key, node] : from.table) {
    if (std::ranges::find(known, key.str()) != known.end()) continue;
    const std::string table = heading(from.entry.kind, from.several);
    notes.fault(place_of(key.source()),
                fmt::format("unknown key {} in {}", quoted_name(key.str()), table),
                suggestion(key.str(), known, "the keys of " + table + " are"));
    notes.has_unknown_key(from.entry);
  }
}

template <class Record>
Record read_record(const TableToRead& from, Notes& notes) {
  Record record{};
  notes.stands_at(from.entry, place_of(from.table.source()));
  report_unknown_keys<Record>(from, notes);
  for (const Field<Record>& field : fields_of<Record>()) {
    const auto found = from.table.find(field.key);
    if (found == from.table.end()) {
      if (field.needed) report_missing(field, from, notes);
      continue;
    }
    const Place place = place_of(found->first.source());
    notes.stands_at({from.entry.kind, from.entry.index, std::string(field.key)}, place);
    read_key(field, found->second, from, place, record, notes);
  }
  return record;
}

}  // namespace evenleg
