#include "evenleg/balance/leg_limits.h"

#include <algorithm>
#include <tuple>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

constexpr double kRemains = 1e-9;  // A; what sums of doubles leave

// What one load, or one circuit with its reading, takes by panel and leg.
struct Draw {
  Shed shed;
  std::vector<std::vector<double>> panels;
};

// Of every load at full share, by load: a scenario of its own for each.
std::vector<CircuitLoads> one_by_one(const House& house, const Wiring& wiring,
                                     const Tables& tables) {
  House alone = house;
  alone.scenarios.clear();
  for (const Load& load : house.loads) alone.scenarios.push_back({load.name, {load.name}, {}});
  std::vector<CircuitLoads> loads = circuit_loads(alone, wiring, tables);
  loads.erase(loads.begin());  // as found
  return loads;
}

std::vector<std::vector<double>> by_panel(const House& house, const Wiring& wiring,
                                          CircuitLoads loads) {
  return leg_loads(house, wiring, {std::move(loads)}).front().panels;
}

// The share at which a load runs. `scenario` < 0: as found.
double share_in(const House& house, int scenario, const Load& load) {
  if (scenario < 0) return load.on ? 1 : 0;
  const Scenario& given = house.scenarios[at(scenario)];
  const auto share = given.share.find(load.name);
  if (share != given.share.end()) return share->second;
  return std::count(given.on.begin(), given.on.end(), load.name) > 0 ? 1 : 0;
}

std::vector<Draw> draws_in(const House& house, const Wiring& wiring,
                           const std::vector<CircuitLoads>& alone, int scenario) {
  const std::vector<int> measured = scenario < 0 ? measured_circuits(house) : std::vector<int>{};
  std::vector<Draw> draws;
  for (std::size_t l = 0; l < alone.size(); ++l) {
    const double share = share_in(house, scenario, house.loads[l]);
    if (share <= 0) continue;
    CircuitLoads loads = alone[l];
    for (auto& poles : loads.amps) {
      for (double& amps : poles) amps *= share;
    }
    for (int c : measured) std::fill(loads.amps[at(c)].begin(), loads.amps[at(c)].end(), 0.0);
    Draw draw;
    draw.shed.load = static_cast<int>(l);
    draw.shed.always_on = house.loads[l].switching == "always on";
    draw.panels = by_panel(house, wiring, std::move(loads));
    draws.push_back(std::move(draw));
  }
  for (int c : measured) {
    CircuitLoads loads;
    for (const Circuit& circuit : house.circuits) loads.amps.emplace_back(at(circuit.poles), 0.0);
    std::fill(loads.amps[at(c)].begin(), loads.amps[at(c)].end(),
              *house.circuits[at(c)].measured_amps);
    Draw draw;
    draw.shed.circuit = c;
    draw.panels = by_panel(house, wiring, std::move(loads));
    draws.push_back(std::move(draw));
  }
  return draws;
}

int fullest(const std::vector<double>& legs) {
  return static_cast<int>(std::max_element(legs.begin(), legs.end()) - legs.begin());
}

void shed_until_it_fits(std::vector<Draw> draws, LegLimit& row) {
  while (true) {
    const int leg = fullest(row.left);
    if (row.left[at(leg)] <= row.limit_amps + kRemains) return;
    const auto on_leg = [&](const Draw& draw) { return draw.panels[at(row.panel)][at(leg)]; };
    const auto next =
        std::max_element(draws.begin(), draws.end(), [&](const Draw& a, const Draw& b) {
          return std::make_tuple(on_leg(a) > 0, !a.shed.always_on, on_leg(a)) <
                 std::make_tuple(on_leg(b) > 0, !b.shed.always_on, on_leg(b));
        });
    if (next == draws.end() || on_leg(*next) <= 0) {
      row.fits = false;
      return;
    }
    Shed shed = next->shed;
    shed.leg = leg;
    shed.amps = on_leg(*next);
    for (std::size_t l = 0; l < row.left.size(); ++l) {
      row.left[l] = std::max(0.0, row.left[l] - next->panels[at(row.panel)][l]);
    }
    row.shed.push_back(shed);
    draws.erase(next);
  }
}

}  // namespace

std::optional<double> limit_of(const House& house, int panel, const LimitOptions& options) {
  if (options.amps && options.panel == panel) return options.amps;
  const std::optional<double> own = house.panels[at(panel)].breaker_a;
  if (panel > 0 || !house.service || !house.service->breaker_a) return own;
  const double service = *house.service->breaker_a;
  return std::min(service, own.value_or(service));
}

std::vector<LegLimit> leg_limits(const House& house, const Wiring& wiring, const Tables& tables,
                                 const LimitOptions& options) {
  const std::vector<LegLoads> scenarios =
      leg_loads(house, wiring, circuit_loads(house, wiring, tables));
  const std::vector<CircuitLoads> alone = one_by_one(house, wiring, tables);
  std::vector<LegLimit> rows;
  for (int panel = 0; panel < static_cast<int>(house.panels.size()); ++panel) {
    const std::optional<double> limit = limit_of(house, panel, options);
    if (!limit) continue;
    for (std::size_t s = 0; s < scenarios.size(); ++s) {
      LegLimit row;
      row.panel = panel;
      row.limit_amps = *limit;
      row.scenario = scenarios[s].scenario;
      row.amps = scenarios[s].panels[at(panel)];
      row.leg = fullest(row.amps);
      row.over_amps = row.amps[at(row.leg)] - *limit;
      row.left = row.amps;
      if (row.over_amps > kRemains) {
        shed_until_it_fits(draws_in(house, wiring, alone, static_cast<int>(s) - 1), row);
      }
      rows.push_back(std::move(row));
    }
  }
  return rows;
}

}  // namespace evenleg
