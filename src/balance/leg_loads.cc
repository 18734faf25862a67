#include "evenleg/balance/leg_loads.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"

namespace evenleg {
namespace {

// Amperes on each pole that a load uses.
double pole_amps(const House& house, const Wiring& wiring, const Tables& tables, std::size_t l) {
  const Load& load = house.loads[l];
  const WiredLoad& wired = wiring.loads[l];
  const std::vector<Hot>& hots = wiring.cables[at(wired.cable)].hots;
  const int to = wired.to == kNeutral ? kNeutral : hots[at(wired.to)].leg;
  const double nominal = nominal_volts(wiring.system, hots[at(wired.from)].leg, to);
  const LoadKind* kind = find_kind(tables, load.kind);
  const double factor = load.power_factor.value_or(kind->power_factor);
  return nameplate_volt_amps(load, factor, load.volts.value_or(nominal)) / nominal;
}

// Which pole of its circuit a hot of a cable is: hots of one circuit follow each other.
std::size_t pole_of(const Cable& cable, int hot) {
  std::size_t pole = 0;
  for (int h = 0; h < hot; ++h) {
    if (cable.hots[at(h)].circuit == cable.hots[at(hot)].circuit) ++pole;
  }
  return pole;
}

double share_of(const Load& load, const Scenario& scenario) {
  const auto share = scenario.share.find(load.name);
  if (share != scenario.share.end()) return share->second;
  const auto& on = scenario.on;
  return std::find(on.begin(), on.end(), load.name) != on.end() ? 1.0 : 0.0;
}

CircuitLoads loads_with(const House& house, const Wiring& wiring, std::string name,
                        const std::vector<double>& pole_amps, const std::vector<double>& share) {
  CircuitLoads result{std::move(name), {}};
  for (const Circuit& circuit : house.circuits) {
    result.amps.emplace_back(at(circuit.poles), 0.0);
  }
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    if (share[l] <= 0) continue;
    const WiredLoad& wired = wiring.loads[l];
    const Cable& cable = wiring.cables[at(wired.cable)];
    for (int end : {wired.from, wired.to}) {
      if (end == kNeutral) continue;
      const int circuit = cable.hots[at(end)].circuit;
      result.amps[at(circuit)][pole_of(cable, end)] += share[l] * pole_amps[l];
    }
  }
  return result;
}

}  // namespace

std::vector<int> measured_circuits(const House& house) {
  std::vector<int> measured;
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    if (house.circuits[c].measured_amps) measured.push_back(static_cast<int>(c));
  }
  return measured;
}

std::vector<CircuitLoads> circuit_loads(const House& house, const Wiring& wiring,
                                        const Tables& tables) {
  std::vector<double> amps;
  std::vector<double> share;
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    amps.push_back(pole_amps(house, wiring, tables, l));
    share.push_back(house.loads[l].on ? 1.0 : 0.0);
  }
  std::vector<CircuitLoads> all{loads_with(house, wiring, "as found", amps, share)};
  for (int c : measured_circuits(house)) {
    std::vector<double>& poles = all.front().amps[at(c)];
    std::fill(poles.begin(), poles.end(), *house.circuits[at(c)].measured_amps);
  }
  for (const Scenario& scenario : house.scenarios) {
    for (std::size_t l = 0; l < share.size(); ++l) share[l] = share_of(house.loads[l], scenario);
    all.push_back(loads_with(house, wiring, scenario.name, amps, share));
  }
  return all;
}

std::vector<LegLoads> leg_loads(const House& house, const Wiring& wiring,
                                const std::vector<CircuitLoads>& circuits) {
  const std::size_t legs = wiring.system.legs.size();
  std::vector<LegLoads> result;
  for (const CircuitLoads& loads : circuits) {
    LegLoads row{loads.scenario, std::vector<double>(legs, 0.0), {}};
    row.panels.assign(house.panels.size(), std::vector<double>(legs, 0.0));
    for (std::size_t c = 0; c < loads.amps.size(); ++c) {
      for (std::size_t pole = 0; pole < loads.amps[c].size(); ++pole) {
        const std::size_t leg = at(wiring.circuit_legs[c][pole]);
        for (int p = wiring.circuit_panel[c]; p >= 0; p = wiring.panels[at(p)].fed_from) {
          row.panels[at(p)][leg] += loads.amps[c][pole];
        }
        row.service[leg] += loads.amps[c][pole];
      }
    }
    result.push_back(std::move(row));
  }
  return result;
}

double spread(const std::vector<double>& legs) {
  if (legs.empty()) return 0;
  const auto [least, most] = std::minmax_element(legs.begin(), legs.end());
  return *most - *least;
}

Imbalance imbalance(const std::vector<double>& legs) {
  Imbalance result;
  const double sum = std::accumulate(legs.begin(), legs.end(), 0.0);
  if (legs.empty() || sum <= 0) return result;
  const double mean = sum / static_cast<double>(legs.size());
  double furthest = 0;
  for (double leg : legs) furthest = std::max(furthest, std::abs(leg - mean));
  result.by_mean = kPercent * furthest / mean;
  result.by_largest = kPercent * spread(legs) / *std::max_element(legs.begin(), legs.end());
  if (legs.size() == 2) result.by_half = kPercent * spread(legs) / (sum / 2);
  return result;
}

}  // namespace evenleg
