#include "evenleg/report/audit_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

const Load& load_at(const House& house, int load) {
  return house.loads[static_cast<std::size_t>(load)];
}

double nominal_leg_volts(const House& house, const Tables& tables) {
  for (const SupplySystem& system : tables.systems) {
    if (system.name == house.supply.system) return system.nominal_volts;
  }
  return 0;
}

// Nameplate volt-amperes, near enough to put loads in order; not for calculation.
double nameplate_size(const Load& load, double leg_volts) {
  const double nameplate_volts = load.volts.value_or(leg_volts);
  if (load.watts) return *load.watts / load.power_factor.value_or(1);
  if (load.va) return *load.va;
  if (load.ohms) return nameplate_volts * nameplate_volts / *load.ohms;
  return nameplate_volts * load.amps.value_or(load.measured_amps.value_or(0));
}

}  // namespace

std::string_view name_of(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::Service:
      return "service";
    case PlaceKind::Feeder:
      return "feeder";
    case PlaceKind::SharedRun:
      return "shared run";
    case PlaceKind::SharedLength:
      return "shared length";
  }
  return "";
}

std::vector<std::string> load_names(const House& house, const std::vector<int>& loads) {
  std::vector<std::string> names;
  for (int load : loads) names.push_back(load_at(house, load).name);
  return names;
}

std::vector<int> large_first(const House& house, const Tables& tables, std::vector<int> loads) {
  const double leg_volts = nominal_leg_volts(house, tables);
  std::stable_sort(loads.begin(), loads.end(), [&](int a, int b) {
    return nameplate_size(load_at(house, a), leg_volts) >
           nameplate_size(load_at(house, b), leg_volts);
  });
  return loads;
}

std::string what_it_takes(const House& house, const Tables& tables, const std::vector<int>& on) {
  constexpr std::size_t kMostNamed = 4;
  if (on.empty()) return "That takes no load on.";
  std::vector<std::string> names;
  for (int load : large_first(house, tables, on)) {
    if (names.size() == kMostNamed) break;
    names.push_back(in_quotes(load_at(house, load).name));
  }
  if (on.size() > names.size()) names.push_back(fmt::format("{} more", on.size() - names.size()));
  return "That takes " + listed(names) + " on, and all else off.";
}

std::vector<std::optional<double>> withstood(const House& house, const Audit& audit) {
  std::vector<std::optional<double>> by_load(house.loads.size());
  for (const RankRow& row : audit.ranking) {
    by_load[static_cast<std::size_t>(row.load)] = row.withstands.si();
  }
  return by_load;
}

std::vector<int> past_at(const House& house, const Audit& audit, const OpenNeutral& open) {
  const std::vector<std::optional<double>> limits = withstood(house, audit);
  std::vector<int> past;
  for (const LoadExtremes& row : open.loads) {
    const std::optional<double> limit = limits[static_cast<std::size_t>(row.load)];
    if (limit && row.highest && row.highest->value.si() > *limit) past.push_back(row.load);
  }
  return past;
}

const LoadExtremes* extremes_of(const OpenNeutral& open, int load) {
  const auto at = std::find_if(open.loads.begin(), open.loads.end(),
                               [&](const LoadExtremes& row) { return row.load == load; });
  return at == open.loads.end() ? nullptr : &*at;
}

bool proven(const LoadExtremes& extremes) {
  return extremes.highest && extremes.highest->proven && extremes.lowest && extremes.lowest->proven;
}

}  // namespace evenleg
