#include <fmt/format.h>

#include <algorithm>

#include "src/tables/readers.h"

namespace evenleg {
namespace {

constexpr std::size_t kMostLegs = 3;  // L1, L2, L3

std::vector<Leg> legs_in(Row& row) {
  std::vector<Leg> legs;
  for (Row& leg : row.rows("legs")) {
    legs.push_back({leg.text("name"), leg.number("angle_degrees", Allowed::Any)});
    const std::string expected = fmt::format("L{}", legs.size());
    if (!legs.back().name.empty() && legs.back().name != expected) {
      leg.refuse("name", fmt::format("leg {} is named \"{}\"", legs.size(), legs.back().name),
                 fmt::format("name it \"{}\"", expected));
    }
    leg.end();
  }
  if (legs.size() > kMostLegs) {
    row.refuse("legs", fmt::format("{} legs", legs.size()), "give at most 3 legs");
  }
  return legs;
}

}  // namespace

void read_supply_systems(Row& root, Tables& tables) {
  tables.systems_source = root.citation("source");
  for (Row& row : root.rows("system")) {
    SupplySystem system;
    system.name = row.text("name");
    system.nominal_volts = row.number("nominal_volts", Allowed::Positive);
    system.split_phase = row.flag("split_phase");
    system.legs = legs_in(row);
    if (system.split_phase && system.legs.size() != 2) {
      row.refuse("legs", fmt::format("a split-phase system with {} legs", system.legs.size()),
                 "give two legs, or set split_phase = false");
    }
    const auto same = [&](const SupplySystem& known) { return known.name == system.name; };
    if (std::any_of(tables.systems.begin(), tables.systems.end(), same)) {
      row.refuse("name", fmt::format("two systems are named \"{}\"", system.name), "rename one");
    }
    row.end();
    tables.systems.push_back(std::move(system));
  }
  root.end();
}

}  // namespace evenleg
