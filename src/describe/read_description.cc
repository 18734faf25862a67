#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/describe/describe.h"
#include "src/describe/notes.h"
#include "src/describe/parser_guard.h"
#include "src/describe/record_reader.h"

namespace evenleg {
namespace {

constexpr std::size_t kMostBytes = 8U << 20U;  // a house with 20,000 loads has about 2 MB
constexpr std::size_t kMostEntries = 20000;    // of one kind
constexpr int kFormat = 1;

// [house] or [visit]: any key, any single value, taken as text.
FreeText read_free_text(const toml::table& table, const std::string& kind, Notes& notes) {
  FreeText read;
  notes.stands_at({kind, 0, ""}, place_of(table.source()));
  for (const auto& [key, node] : table) {
    const Place place = place_of(key.source());
    const std::string name(key.str());
    notes.stands_at({kind, 0, name}, place);
    const std::optional<std::string> text = text_of(node);
    if (!text) {
      notes.fault(place,
                  fmt::format("{} = {}, and it must be text", quoted_name(name), shown(node)),
                  "write it in quotes");
    } else if (const auto what = free_text_fault(name, *text)) {
      notes.fault(place, *what, "correct it");
    } else {
      read.emplace(name, *text);
      continue;
    }
    notes.is_spoiled({kind, 0, ""});
  }
  return read;
}

// The table of that name, or nullptr where there is none or it is no table, which is then noted.
const toml::table* single_table(const toml::table& root, std::string_view key,
                                std::string_view kind, Notes& notes) {
  const auto found = root.find(key);
  if (found == root.end()) return nullptr;
  const toml::node& node = found->second;
  if (const toml::table* table = node.as_table()) return table;
  const std::string right = heading(kind, false);
  const bool list = node.is_array_of_tables();
  notes.fault(place_of(found->first.source()),
              list ? fmt::format("{} is a list of tables, and there is only one {}",
                                 heading(kind, true), kind)
                   : fmt::format("{} = {}, and it must be a table", key, shown(node)),
              fmt::format("write {}", right));
  notes.is_incomplete();
  return nullptr;
}

// Notes what is wrong with the entries of a kind as a whole; nullptr where they cannot be read.
const toml::array* entries(const toml::table& root, std::string_view kind, Notes& notes) {
  const auto found = root.find(kind);
  if (found == root.end()) return nullptr;
  const toml::node& node = found->second;
  const std::string right = heading(kind, true);
  const toml::array* array = node.as_array();
  const auto refuse = [&](Place place, std::string what, std::string remedy) {
    notes.fault(place, std::move(what), std::move(remedy));
    notes.is_incomplete();
    return nullptr;
  };
  const Place place = place_of(found->first.source());
  if (node.is_table()) {
    return refuse(place,
                  fmt::format("{} is a single table, and each {} is one of a list",
                              heading(kind, false), kind),
                  fmt::format("write {}", right));
  }
  const auto is_table = [](const toml::node& item) { return item.is_table(); };
  if (!array || !std::all_of(array->begin(), array->end(), is_table)) {
    return refuse(place, fmt::format("{} = {}, and it must be a list of tables", kind, shown(node)),
                  fmt::format("write {}", right));
  }
  if (array->size() > kMostEntries) {
    return refuse(place_of(array->get(kMostEntries)->source()),
                  fmt::format("there are {} entries {}, and at most {} are read", array->size(),
                              right, kMostEntries),
                  "describe less in one house");
  }
  return array;
}

template <class Record>
std::vector<Record> read_entries(const toml::table& root, Notes& notes) {
  std::vector<Record> records;
  const std::string kind(kind_name<Record>);
  const toml::array* array = entries(root, kind, notes);
  if (!array) return records;
  for (const toml::node& node : *array) {
    const int index = static_cast<int>(records.size());
    records.push_back(read_record<Record>({*node.as_table(), {kind, index, ""}, true}, notes));
  }
  return records;
}

template <class Record>
std::optional<Record> read_single(const toml::table& above, std::string_view key, Notes& notes,
                                  std::string subtable = "") {
  const std::string kind(kind_name<Record>);
  const toml::table* table = single_table(above, key, kind, notes);
  if (!table) return std::nullopt;
  return read_record<Record>({*table, {kind, 0, ""}, false, std::move(subtable)}, notes);
}

void require_table(const toml::table& root, std::string_view key, std::string_view needs,
                   Notes& notes) {
  if (root.contains(key)) return;
  notes.fault({}, fmt::format("there is no [{}]", key),
              fmt::format("add [{}] with its {}", key, needs));
  notes.is_incomplete();
}

void read_about(const toml::table& root, House& house, Notes& notes) {
  require_table(root, "house", "name", notes);
  const toml::table* table = single_table(root, "house", "house", notes);
  if (!table) return;
  house.about = read_free_text(*table, "house", notes);
  if (table->contains("name")) return;
  notes.fault(place_of(table->source()), "this [house] has no name",
              "add name, which must be text");
  notes.is_spoiled({"house", 0, ""});
}

void read_supply(const toml::table& root, House& house, Notes& notes) {
  require_table(root, "supply", "system", notes);
  house.supply = read_single<Supply>(root, "supply", notes, "transformer").value_or(Supply{});
  if (const toml::table* supply = root["supply"].as_table()) {
    house.supply.transformer = read_single<Transformer>(*supply, "transformer", notes);
  }
}

void check_top_level(const toml::table& root, Notes& notes) {
  static const std::vector<std::string> kTables = {"house",  "supply",    "service",  "dwelling", "panel",
                                                   "circuit", "multiwire", "outlet",  "load",
                                                   "scenario", "reading",  "visit",   "finding"};
  for (const auto& [key, node] : root) {
    const Place place = place_of(key.source());
    if (key.str() == "format") {
      const auto* format = node.as_integer();
      if (format && format->get() == kFormat) continue;
      notes.fault(place,
                  fmt::format("format = {}, and only format {} is known", shown(node), kFormat),
                  fmt::format("write format = {}", kFormat));
    } else if (std::ranges::find(kTables, key.str()) == kTables.end()) {
      const bool table = node.is_table() || node.is_array_of_tables();
      notes.fault(place,
                  fmt::format("unknown {} {}", table ? "table" : "key", quoted_name(key.str())),
                  suggestion(key.str(), kTables, "the tables of a description are"));
    }
  }
}

House read_house(const toml::table& root, Notes& notes) {
  House house;
  read_about(root, house, notes);
  read_supply(root, house, notes);
  house.service = read_single<Service>(root, "service", notes);
  house.dwelling = read_single<Dwelling>(root, "dwelling", notes);
  house.panels = read_entries<Panel>(root, notes);
  house.circuits = read_entries<Circuit>(root, notes);
  house.multiwires = read_entries<Multiwire>(root, notes);
  house.outlets = read_entries<Outlet>(root, notes);
  house.loads = read_entries<Load>(root, notes);
  house.scenarios = read_entries<Scenario>(root, notes);
  house.readings = read_entries<Reading>(root, notes);
  if (const auto* visit = single_table(root, "visit", "visit", notes)) {
    house.visit = read_free_text(*visit, "visit", notes);
  }
  house.findings = read_entries<SiteFinding>(root, notes);
  check_top_level(root, notes);
  return house;
}

[[noreturn]] void refuse_syntax(const toml::parse_error& error, Notes& notes) {
  const std::string description(error.description());
  const bool twice = description.find("cannot redefine") != std::string::npos;
  notes.fault(place_of(error.source()), "this is not TOML: " + description,
              twice ? "write each key once, and [[ ]] around the name of a table that there is "
                      "more than one of"
                    : "correct the text there");
  notes.throw_faults();
  throw;  // not reached: there is a fault
}

toml::table parsed(std::string_view text, std::string_view name, Notes& notes) {
  if (text.size() > kMostBytes) {
    throw Error(ErrorKind::Request,
                {std::string(name),
                 fmt::format("the description has {} bytes, and at most {} are read", text.size(),
                             kMostBytes),
                 "describe less in one house"});
  }
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  const auto [bad, safe_text] = guarded(text);
  if (bad) {
    notes.fault(bad->place, bad->what, bad->remedy);
    notes.throw_faults();
  }
  try {
    return toml::parse(safe_text);
  } catch (const toml::parse_error& error) {
    refuse_syntax(error, notes);
  }
}

}  // namespace

House read_description(std::string_view text, std::string_view name, const Vocabulary& vocabulary) {
  Notes notes(name);
  const toml::table root = parsed(text, name, notes);
  House house = read_house(root, notes);
  if (notes.complete()) notes.add(validate(house, vocabulary));
  notes.throw_faults();
  return house;
}

}  // namespace evenleg
