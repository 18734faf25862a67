#include "tests/audit/brute_force.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

bool switching_allows(const House& house, const std::vector<bool>& on) {
  for (std::size_t l = 0; l < on.size(); ++l) {
    if (house.loads[l].switching == "always on" && !on[l]) return false;
    if (house.loads[l].switching == "always off" && on[l]) return false;
  }
  return true;
}

bool groups_allow(const House& house, const std::vector<bool>& on) {
  std::map<std::string, int> running;
  for (std::size_t l = 0; l < on.size(); ++l) {
    const auto& group = house.loads[l].noncoincident;
    if (group && on[l] && ++running[*group] > 1) return false;
  }
  return true;
}

bool breakers_allow(const BuiltHouse& house, const std::vector<bool>& on) {
  std::map<std::pair<int, int>, double> amps;  // by circuit and supply leg, which name a pole
  for (std::size_t l = 0; l < on.size(); ++l) {
    if (!on[l]) continue;
    const WiredLoad& wired = house.wiring.loads[l];
    const LoadModel& model = house.model.loads[l];
    for (int end : {wired.from, wired.to}) {
      if (end == kNeutral) continue;
      const Hot& hot = house.wiring.cables[at(wired.cable)].hots[at(end)];
      amps[{hot.circuit, hot.leg}] += model.nominal_volt_amps / model.nominal_volts;
    }
  }
  return std::all_of(amps.begin(), amps.end(), [&](const auto& pole) {
    constexpr double kRounding = 1e-9;  // two loads of 7.5 A do not exceed 15 A
    const auto& breaker = house.house.circuits[at(pole.first.first)].breaker_a;
    return !breaker || pole.second <= *breaker * (1 + kRounding);
  });
}

bool is_fed_through(const BuiltHouse& house, int panel, int through) {
  for (int p = panel; p >= 0; p = house.wiring.panels[at(p)].fed_from) {
    if (p == through) return true;
  }
  return false;
}

bool is_beyond(const BuiltHouse& house, const Place& place, int cable, int box) {
  const Cable& wired = house.wiring.cables[at(cable)];
  if (!in_cable(place)) return is_fed_through(house, wired.neutral_panel, place.panel);
  if (cable != place.cable) return false;
  for (int b = box; b >= 0; b = wired.boxes[at(b)].upstream) {
    if (b == place.box) return true;
  }
  return false;
}

void take_panel_volts(const BuiltHouse& house, const Solution& solution, Beyond& result) {
  if (in_cable(result.place)) return;
  const PanelState& panel = solution.panels[at(result.place.panel)];
  if (panel.isolated) return;
  for (std::size_t leg = 0; leg < house.wiring.panels[at(result.place.panel)].legs.size(); ++leg) {
    result.panel_leg_volts.take(std::abs(panel.hot[leg] - panel.neutral));
  }
}

}  // namespace

void Range::take(double value) {
  lowest = std::min(lowest, value);
  highest = std::max(highest, value);
}

bool is_credible(const BuiltHouse& house, const std::vector<bool>& on) {
  return switching_allows(house.house, on) && groups_allow(house.house, on) &&
         breakers_allow(house, on);
}

OnStates credible_subsets(const BuiltHouse& house) {
  const std::size_t loads = house.house.loads.size();
  OnStates credible;
  for (std::size_t subset = 0; subset < std::size_t{1} << loads; ++subset) {
    std::vector<bool> on;
    for (std::size_t l = 0; l < loads; ++l) on.push_back((subset >> l & 1U) != 0);
    if (is_credible(house, on)) credible.push_back(on);
  }
  return credible;
}

Solution solved(const BuiltHouse& house, const std::vector<bool>& on,
                const std::optional<NeutralFault>& fault) {
  Solution solution = solve_sparse(house.model, admittances(house.model, on), fault);
  if (solution.status != SolveStatus::Solved) {
    throw std::runtime_error("a state of a test's house has no single solution");
  }
  return solution;
}

double empty_volts(const Solution& solution, const EmptyTerminals& terminals) {
  const BoxState& box = solution.boxes[at(terminals.cable)][at(terminals.box)];
  return box.isolated ? 0 : std::abs(box.hot[at(terminals.hot)] - box.neutral);
}

Beyond beyond(const BuiltHouse& house, const Place& place) {
  Beyond result;
  result.place = place;
  for (std::size_t l = 0; l < house.wiring.loads.size(); ++l) {
    const WiredLoad& load = house.wiring.loads[l];
    if (load.to != kNeutral || !is_beyond(house, place, load.cable, load.box)) continue;
    result.loads.push_back(static_cast<int>(l));
    result.volts.emplace_back();
  }
  for (std::size_t o = 0; o < house.house.outlets.size(); ++o) {
    const auto& loads = house.house.loads;
    const int cable = house.wiring.outlet_cable[o];
    const int box = house.wiring.outlet_box[o];
    const bool in_use = std::any_of(loads.begin(), loads.end(), [&](const Load& load) {
      return load.at == house.house.outlets[o].name;
    });
    if (in_use || !is_beyond(house, place, cable, box)) continue;
    const Cable& wired = house.wiring.cables[at(cable)];
    for (int hot : wired.boxes[at(box)].hots) {
      const std::string leg = house.wiring.system.legs[at(wired.hots[at(hot)].leg)].name;
      result.empty.push_back({static_cast<int>(o), cable, box, hot, leg + "-N", {}});
    }
  }
  return result;
}

Beyond brute_force(const BuiltHouse& house, const OnStates& credible, const Place& place) {
  Beyond result = beyond(house, place);
  for (const std::vector<bool>& on : credible) {
    const Solution solution = solved(house, on, NeutralFault{place});
    for (std::size_t i = 0; i < result.loads.size(); ++i) {
      const std::size_t load = at(result.loads[i]);
      if (on[load]) result.volts[i].take(std::abs(solution.load_volts[load]));
    }
    for (EmptyTerminals& terminals : result.empty) {
      terminals.volts.take(empty_volts(solution, terminals));
    }
    take_panel_volts(house, solution, result);
  }
  return result;
}

double neutral_amps(const Solution& solution, const Place& place) {
  switch (place.kind) {
    case PlaceKind::Service:
      return std::abs(solution.service_neutral_amps);
    case PlaceKind::Feeder:
      return std::abs(solution.panels[at(place.panel)].neutral_amps);
    case PlaceKind::SharedRun:
    case PlaceKind::SharedLength:
      break;
  }
  return std::abs(solution.boxes[at(place.cable)][at(place.box)].neutral_amps);
}

std::vector<Place> every_neutral(const BuiltHouse& house) {
  std::vector<Place> places{{"service", PlaceKind::Service, 0, -1, -1}};
  for (std::size_t p = 1; p < house.house.panels.size(); ++p) {
    places.push_back({house.house.panels[p].name, PlaceKind::Feeder, static_cast<int>(p), -1, -1});
  }
  for (std::size_t c = 0; c < house.wiring.cables.size(); ++c) {
    const int multiwire = house.wiring.cables[c].multiwire;
    if (multiwire < 0) continue;
    const std::vector<Box>& boxes = house.wiring.cables[c].boxes;
    const auto first =
        std::find_if(boxes.begin(), boxes.end(), [](const Box& box) { return box.upstream == 0; });
    places.push_back({house.house.multiwires[at(multiwire)].name, PlaceKind::SharedRun, 0,
                      static_cast<int>(c), static_cast<int>(first - boxes.begin())});
  }
  return places;
}

std::vector<bool> only(const BuiltHouse& house, const std::vector<int>& listed) {
  std::vector<bool> on(house.house.loads.size(), false);
  for (int load : listed) on[at(load)] = true;
  return on;
}

}  // namespace evenleg
