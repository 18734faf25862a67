#include "tests/diagnose/simulated_visit.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "evenleg/network/solve.h"
#include "tests/diagnose/visit_house.h"

namespace evenleg {
namespace {

const Tables& tables() {
  static const Tables all = load_tables();
  return all;
}

Wiring wired(const House& house) {
  return wire(house, *find_system(vocabulary(tables()), house.supply.system));
}

template <class Named>
std::size_t index_of(const std::vector<Named>& all, const std::string& name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  REQUIRE(found != all.end());
  return static_cast<std::size_t>(found - all.begin());
}

// Potentials at a place by supply leg, the neutral's last.
struct Potentials {
  std::vector<std::optional<Complex>> legs;
  Complex neutral;
};

}  // namespace

SimulatedVisit::SimulatedVisit(House described)
    : house(std::move(described)),
      wiring_(wired(house)),
      truth_(build_model(house, wiring_, tables())) {}

std::size_t SimulatedVisit::cable_of(const std::string& name) const {
  for (std::size_t m = 0; m < house.multiwires.size(); ++m) {
    if (house.multiwires[m].name != name) continue;
    const auto first = index_of(house.circuits, house.multiwires[m].circuits.front());
    return static_cast<std::size_t>(wiring_.circuit_cable[first]);
  }
  return static_cast<std::size_t>(wiring_.circuit_cable[index_of(house.circuits, name)]);
}

void SimulatedVisit::add_to_service_hot(int leg, double ohms) {
  const auto legs = static_cast<Eigen::Index>(truth_.source.size());
  if (truth_.source_impedance.size() == 0) truth_.source_impedance = Matrix::Zero(legs, legs);
  truth_.source_impedance(leg, leg) += ohms;
}

void SimulatedVisit::add_to_service_neutral(double ohms) {
  truth_.panels.front().run.neutral += ohms;
}

Reading& SimulatedVisit::read(const std::string& at, const std::vector<std::string>& on) {
  std::vector<Complex> y(truth_.loads.size());
  for (const std::string& name : on) {
    const std::size_t load = index_of(house.loads, name);
    y[load] = load_factor * truth_.loads[load].admittance;
  }
  const Solution whole = solve(truth_, y);
  REQUIRE(whole.status == SolveStatus::Solved);
  Potentials here{std::vector<std::optional<Complex>>(truth_.source.size()), {}};
  const bool panel = std::any_of(house.panels.begin(), house.panels.end(),
                                 [&](const Panel& one) { return one.name == at; });
  if (panel) {
    const std::size_t p = index_of(house.panels, at);
    for (std::size_t i = 0; i < truth_.panels[p].legs.size(); ++i) {
      here.legs[static_cast<std::size_t>(truth_.panels[p].legs[i])] = whole.panels[p].hot[i];
    }
    here.neutral = whole.panels[p].neutral;
  } else {
    const std::size_t outlet = index_of(house.outlets, at);
    const auto c = static_cast<std::size_t>(wiring_.outlet_cable[outlet]);
    const auto b = static_cast<std::size_t>(wiring_.outlet_box[outlet]);
    for (const int hot : wiring_.cables[c].boxes[b].hots) {
      const auto leg =
          static_cast<std::size_t>(wiring_.cables[c].hots[static_cast<std::size_t>(hot)].leg);
      here.legs[leg] = whole.boxes[c][b].hot[static_cast<std::size_t>(hot)];
    }
    here.neutral = whole.boxes[c][b].neutral;
  }
  const auto shown = [&](Complex a, Complex b) {
    constexpr double kTenths = 10;
    return std::round((std::abs(a - b) + noise_volts * normal(dice_)) * kTenths) / kTenths;
  };
  Reading reading;
  reading.at = at;
  reading.on = on;
  const Complex ground = whole.panels.front().neutral;
  if (here.legs[0]) reading.l1_n_volts = shown(*here.legs[0], here.neutral);
  if (here.legs.size() > 1 && here.legs[1]) {
    reading.l2_n_volts = shown(*here.legs[1], here.neutral);
    if (here.legs[0]) reading.l1_l2_volts = shown(*here.legs[0], *here.legs[1]);
  }
  if (!panel) {
    reading.neutral_ground_volts = std::abs(shown(here.neutral, ground));
    if (here.legs[0]) reading.l1_ground_volts = shown(*here.legs[0], ground);
    if (here.legs.size() > 1 && here.legs[1])
      reading.l2_ground_volts = shown(*here.legs[1], ground);
  }
  house.readings.push_back(std::move(reading));
  return house.readings.back();
}

Reading& SimulatedVisit::read_clamped(const std::string& panel,
                                      const std::vector<std::string>& on) {
  Reading& reading = read(panel, on);
  std::vector<Complex> y(truth_.loads.size());
  for (const std::string& name : on) {
    const std::size_t load = index_of(house.loads, name);
    y[load] = load_factor * truth_.loads[load].admittance;
  }
  const PanelState state = solve(truth_, y).panels[index_of(house.panels, panel)];
  reading.l1_amps = std::abs(state.hot_amps[0]);
  if (state.hot_amps.size() > 1) reading.l2_amps = std::abs(state.hot_amps[1]);
  reading.neutral_amps = std::abs(state.neutral_amps);
  reading.on.clear();
  return reading;
}

Diagnosis SimulatedVisit::judged() const { return diagnose(house, tables()); }

}  // namespace evenleg
