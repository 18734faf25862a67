#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>
#include <string_view>

#include "src/tables/demand_category.h"
#include "src/tables/load_laws.h"
#include "src/tables/readers.h"
#include "src/tables/references.h"

namespace evenleg {
namespace {

// In the order of the enumerators.
constexpr std::string_view kBehaviours[] = {
    "resistive",
    "filament",
    "constant current",
    "constant power",
    "constant power at one voltage",
    "motor",
    "compressor",
    "surge protector",
    "mixed",
};

Behaviour behaviour_in(Row& row) {
  const std::string name = row.text("behaviour");
  const auto found = std::find(std::begin(kBehaviours), std::end(kBehaviours), name);
  if (found != std::end(kBehaviours)) {
    return static_cast<Behaviour>(std::distance(std::begin(kBehaviours), found));
  }
  if (!name.empty()) {
    std::string all;
    for (std::string_view known : kBehaviours) {
      all += fmt::format("{}\"{}\"", all.empty() ? "" : ", ", known);
    }
    row.refuse("behaviour", fmt::format("\"{}\" is not a behaviour", name),
               fmt::format("write one of {}", all));
  }
  return Behaviour::Resistive;
}

// Given as such, or computed from the active and the reactive power that the source prints.
double power_factor_in(Row& row) {
  if (row.has("active_watts") && !row.has("power_factor")) {
    const double watts = row.number("active_watts", Allowed::Positive);
    const double vars = row.number("reactive_vars", Allowed::Any);
    return watts > 0 ? watts / std::hypot(watts, vars) : 1;
  }
  const double factor = row.number("power_factor", Allowed::Positive);
  if (factor > 1) {
    row.refuse("power_factor", fmt::format("a power factor of {}", factor), "write at most 1");
  }
  return factor;
}

void read_withstands(Row& row, LoadKind& kind) {
  if (row.has("withstands_volts") && !row.has("withstands")) {
    kind.withstands_volts = row.number("withstands_volts", Allowed::Positive);
    return;
  }
  kind.withstands = row.number("withstands", Allowed::Positive);
  if (kind.withstands > 0 && kind.withstands < 1) {
    row.refuse("withstands", fmt::format("{} is less than the nameplate volts", kind.withstands),
               "write 1 or more, per unit of nameplate volts");
  }
}

// A kind that names no law is a constant impedance.
void take_law(Row& row, const std::vector<LoadLaw>& laws, LoadKind& kind) {
  const std::optional<std::string> name = row.text_if("law");
  if (!name) return;
  const auto found = std::find_if(laws.begin(), laws.end(),
                                  [&](const LoadLaw& law) { return law.name == *name; });
  if (found == laws.end()) {
    row.refuse("law", fmt::format("no law is named \"{}\"", *name),
               fmt::format("add [laws.\"{}\"]", *name));
    return;
  }
  kind.law = *found;
}

}  // namespace

std::string_view name_of(Behaviour behaviour) {
  return kBehaviours[static_cast<std::size_t>(behaviour)];
}

double withstood_volts(const LoadKind& kind, double nameplate_volts) {
  return kind.withstands_volts.value_or(kind.withstands * nameplate_volts);
}

double nameplate_volt_amps(const Load& load, double power_factor, double nameplate_volts) {
  if (load.ohms) return nameplate_volts * nameplate_volts / *load.ohms;
  if (load.va) return *load.va;
  if (load.watts) return *load.watts / power_factor;
  return nameplate_volts * load.amps.value_or(load.measured_amps.value_or(0));
}

void read_load_kinds(Row& root, Tables& tables) {
  (void)root.citation("source");  // must be there; each kind carries its own
  const References references(root);
  const std::vector<LoadLaw> laws = read_load_laws(root, references);
  for (Row& row : root.rows("kind")) {
    LoadKind kind;
    kind.name = row.text("name");
    kind.description = row.text("description");
    kind.behaviour = behaviour_in(row);
    kind.demand = demand_category_in(row, "demand");
    take_law(row, laws, kind);
    kind.power_factor = power_factor_in(row);
    kind.power_factor_source = references.named_by(row, "power_factor_reference");
    read_withstands(row, kind);
    kind.withstands_source = references.named_by(row, "withstands_reference");
    if (kind.name.starts_with(' ') || kind.name.ends_with(' ') ||
        kind.name.find("  ") != std::string::npos) {
      row.refuse("name", fmt::format("\"{}\" has spaces to spare", kind.name),
                 "write single spaces between words");
    }
    if (!kind.name.empty() && find_kind(tables, kind.name) != nullptr) {
      row.refuse("name", fmt::format("two kinds are named \"{}\"", kind.name), "rename one");
    }
    row.end();
    tables.load_kinds.push_back(std::move(kind));
  }
  // A load without a kind is "plain".
  if (!tables.load_kinds.empty() && find_kind(tables, "plain") == nullptr) {
    root.refuse("kind", "no kind is named \"plain\"",
                "add it: loads without a kind are of that one");
  }
  root.end();
}

}  // namespace evenleg
