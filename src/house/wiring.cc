#include "evenleg/house/wiring.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <unordered_map>

#include "src/house/cable_builder.h"

namespace evenleg {
namespace {

template <class Record>
int index_of(const std::vector<Record>& records, const std::string& name) {
  for (std::size_t i = 0; i < records.size(); ++i) {
    if (records[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

int leg_index(const SupplySystem& system, std::string_view name) {
  for (std::size_t i = 0; i < system.legs.size(); ++i) {
    if (system.legs[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

// Spaces 1 and 2 are row 0, spaces 3 and 4 row 1: each row sits on the next leg of the bus in turn.
int leg_of_space(int space, const WiredPanel& panel) {
  const std::size_t row = static_cast<std::size_t>((space - 1) / 2);
  return panel.legs[row % panel.legs.size()];
}

std::vector<int> feeder_legs(const Panel& panel, const WiredPanel& feeding) {
  if (panel.at_spaces.empty()) return feeding.legs;
  std::vector<int> legs;
  for (int space : panel.at_spaces) legs.push_back(leg_of_space(space, feeding));
  std::sort(legs.begin(), legs.end());
  legs.erase(std::unique(legs.begin(), legs.end()), legs.end());
  return legs;
}

}  // namespace

std::vector<WiredPanel> wire_panels(const House& house, const SupplySystem& system) {
  std::vector<WiredPanel> wired(house.panels.size());
  std::vector<bool> done(house.panels.size(), false);
  std::size_t left = house.panels.size();
  for (bool progress = true; progress && left > 0;) {
    progress = false;
    for (std::size_t p = 0; p < house.panels.size(); ++p) {
      if (done[p]) continue;
      const Panel& panel = house.panels[p];
      if (p == 0) {
        if (panel.fed_from) return {};
        for (std::size_t leg = 0; leg < system.legs.size(); ++leg) {
          wired[p].legs.push_back(static_cast<int>(leg));
        }
      } else {
        const int feeding = panel.fed_from ? index_of(house.panels, *panel.fed_from) : -1;
        if (feeding < 0) return {};
        if (!done[static_cast<std::size_t>(feeding)]) continue;
        wired[p].fed_from = feeding;
        for (int space : panel.at_spaces) {
          if (space < 1) return {};
        }
        wired[p].legs = feeder_legs(panel, wired[static_cast<std::size_t>(feeding)]);
      }
      done[p] = true;
      progress = true;
      --left;
    }
  }
  if (left > 0) return {};
  return wired;
}

std::vector<int> legs_of_circuit(const Circuit& circuit, const WiredPanel& panel,
                                 const SupplySystem& system) {
  std::vector<int> legs;
  if (!circuit.legs.empty()) {
    for (const std::string& name : circuit.legs) {
      const int leg = leg_index(system, name);
      if (leg < 0 || std::count(panel.legs.begin(), panel.legs.end(), leg) == 0) return {};
      legs.push_back(leg);
    }
    return legs;
  }
  if (!circuit.space || *circuit.space < 1 || panel.legs.empty()) return {};
  for (int pole = 0; pole < circuit.poles; ++pole) {
    legs.push_back(leg_of_space(*circuit.space + 2 * pole, panel));
  }
  return legs;
}

double nominal_volts(const SupplySystem& system, int from_leg, int to_leg_or_neutral) {
  const auto source = [&](int leg) {
    const double degrees = system.legs[static_cast<std::size_t>(leg)].angle_degrees;
    constexpr double kHalfTurnDegrees = 180;
    return std::polar(system.nominal_volts, degrees * std::acos(-1.0) / kHalfTurnDegrees);
  };
  if (to_leg_or_neutral == kNeutral) return system.nominal_volts;
  return std::abs(source(from_leg) - source(to_leg_or_neutral));
}

std::string legs_text(const Wiring& wiring, const Cable& cable, int from, int to) {
  const auto name = [&](int hot) -> std::string {
    if (hot == kNeutral) return "N";
    const int leg = cable.hots[static_cast<std::size_t>(hot)].leg;
    return wiring.system.legs[static_cast<std::size_t>(leg)].name;
  };
  return fmt::format("{}-{}", name(from), name(to));
}

Wiring wire(const House& house, const SupplySystem& system) {
  Wiring wiring;
  wiring.system = system;
  wiring.panels = wire_panels(house, system);
  assert(!wiring.panels.empty());
  for (const Circuit& circuit : house.circuits) {
    const int panel = circuit.panel ? index_of(house.panels, *circuit.panel) : 0;
    wiring.circuit_panel.push_back(panel);
    wiring.circuit_legs.push_back(
        legs_of_circuit(circuit, wiring.panels[static_cast<std::size_t>(panel)], system));
  }
  build_cables(house, wiring);
  connect_loads(house, wiring);
  return wiring;
}

}  // namespace evenleg
