#include "evenleg/tables/tables.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <memory>
#include <utility>

#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "src/tables/conductor_names.h"
#include "src/tables/data_file.h"
#include "src/tables/embedded.h"
#include "src/tables/readers.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

struct TableFile {
  std::string_view name;
  void (*read)(Row& root, Tables& tables);
};

constexpr TableFile kFiles[] = {
    {"supply-systems.toml", read_supply_systems}, {"conductors.toml", read_conductors},
    {"load-kinds.toml", read_load_kinds},         {"voltage-limits.toml", read_voltage_limits},
    {"severities.toml", read_severities},         {"voltage-drop.toml", read_voltage_drop},
    {"spectra.toml", read_spectra},               {"motor-starting.toml", read_motor_starting},
    {"flicker.toml", read_flicker},
    {"rules.toml", read_rules},
    {"patterns.toml", read_patterns},
    {"demand-standard.toml", read_demand_method},
    {"demand-optional.toml", read_demand_method},
    {"demand-existing.toml", read_demand_method},
    {"demand-recorded.toml", read_demand_method},
    {"demand-canadian.toml", read_demand_method},
    {"demand-neutral.toml", read_demand_method},
    {"demand-service.toml", read_demand_method},
};

std::string_view built_in(std::string_view name) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.name == name) return file.text;
  }
  assert(false && "a data file is missing from the build");
  return {};
}

void require_folder(const fs::path& folder) {
  std::error_code error;
  if (fs::is_directory(folder, error)) return;
  throw Error(ErrorKind::Request,
              {folder.string(), "no such data folder", "name a folder that holds data files"});
}

void append(std::vector<Fault>& all, std::vector<Fault> more) {
  for (Fault& fault : more) all.push_back(std::move(fault));
}

std::vector<Fault> read_text(const TableFile& file, std::string where, std::string_view text,
                             Tables& tables) {
  DataFile data(std::move(where), text);
  if (std::optional<Row> root = data.root()) file.read(*root, tables);
  return data.faults();
}

// From the folder where it holds that file, else as built in.
std::vector<Fault> read_table(const TableFile& file, const std::optional<fs::path>& folder,
                              Tables& tables) {
  std::error_code absent;
  if (!folder || !fs::exists(*folder / file.name, absent)) {
    return read_text(file, fmt::format("built-in {}", file.name), built_in(file.name), tables);
  }
  const fs::path path = *folder / file.name;
  try {
    return read_text(file, path.string(), read_file(path), tables);
  } catch (const Error& error) {
    return error.faults();
  }
}

// In lower case, with single spaces and none at the ends.
std::string folded(std::string_view name) {
  std::string text;
  for (char c : name) {
    if (c != ' ') {
      text += lower(c);
    } else if (!text.empty() && text.back() != ' ') {
      text += ' ';
    }
  }
  if (!text.empty() && text.back() == ' ') text.pop_back();
  return text;
}

// Without a copy: `known` is a name of a data file, which has no spaces to spare.
bool matches(std::string_view known, std::string_view folded_name) {
  return std::equal(known.begin(), known.end(), folded_name.begin(), folded_name.end(),
                    [](char k, char f) { return lower(k) == f; });
}

}  // namespace

Tables load_tables(const std::optional<fs::path>& folder) {
  if (folder) require_folder(*folder);
  Tables tables;
  std::vector<Fault> faults;
  for (const TableFile& file : kFiles) append(faults, read_table(file, folder, tables));
  if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
  return tables;
}

Vocabulary vocabulary(const Tables& tables) {
  Vocabulary known;
  known.systems = tables.systems;
  for (const LoadKind& kind : tables.load_kinds) known.load_kinds.push_back(kind.name);
  // Shared, so that copies of the vocabulary stay cheap and need no tables that outlive them.
  const auto names = std::make_shared<std::vector<std::string>>();
  for (const Conductor& conductor : tables.conductors) names->push_back(folded(conductor.name));
  known.knows_conductor = [names](std::string_view name) {
    return std::find(names->begin(), names->end(), plain_conductor_name(name)) != names->end();
  };
  return known;
}

const LoadKind* find_kind(const Tables& tables, std::string_view name) {
  const std::string wanted = folded(name);
  for (const LoadKind& kind : tables.load_kinds) {
    if (matches(kind.name, wanted)) return &kind;
  }
  return nullptr;
}

}  // namespace evenleg
