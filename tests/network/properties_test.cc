// What must hold in every network whatever its values, checked on random houses and both engines.
#include <doctest/doctest.h>

#include <algorithm>
#include <string_view>

#include "evenleg/base/index.h"
#include "evenleg/network/panel_system.h"
#include "evenleg/network/solve.h"
#include "tests/check.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr std::uint64_t kHouses = 200;
constexpr double kExact = 1e-9;  // of the source's volts; amperes and watts of all that flows

struct Engine {
  std::string_view name;
  Solution (*solve)(const Model&, const std::vector<Complex>&, const std::optional<NeutralFault>&);
};
const Engine kEngines[] = {{"cables", solve}, {"sparse", solve_sparse}};

double source_volts(const Model& model) {
  double most = 0;
  for (const Complex& leg : model.source) most = std::max(most, std::abs(leg));
  return most;
}
double all_amps(const Solution& solution) {
  double sum = 1;
  for (const Complex& load : solution.load_amps) sum += std::abs(load);
  return sum;
}

// Amperes of every conductor by Kirchhoff's current law alone: what the loads at and beyond it
// draw.
struct Currents {
  std::vector<std::vector<Complex>> panel_hot;  // by panel and position in its legs
  std::vector<Complex> panel_neutral;           // back; first panel: earth return included
  std::vector<std::vector<std::vector<Complex>>> box_hot;  // [cable][box][hot]
  std::vector<std::vector<Complex>> box_neutral;
};

void add_to_panels(const Model& model, int panel, int leg, Complex amps, Currents& currents) {
  for (int p = panel; p >= 0; p = model.panels[at(p)].fed_from) {
    if (leg == kNeutral) {
      currents.panel_neutral[at(p)] += amps;
      continue;
    }
    const std::vector<int>& legs = model.panels[at(p)].legs;
    const auto found = std::find(legs.begin(), legs.end(), leg) - legs.begin();
    currents.panel_hot[at(p)][static_cast<std::size_t>(found)] += amps;
  }
}

Currents currents_of(const Model& model, const Solution& solution) {
  Currents currents;
  currents.panel_neutral.resize(model.panels.size());
  for (const PanelModel& panel : model.panels) currents.panel_hot.emplace_back(panel.legs.size());
  for (const CableModel& cable : model.cables) {
    currents.box_neutral.emplace_back(cable.boxes.size());
    currents.box_hot.emplace_back(cable.boxes.size(), std::vector<Complex>(cable.hots.size()));
  }
  for (std::size_t l = 0; l < model.loads.size(); ++l) {
    const LoadModel& load = model.loads[l];
    const CableModel& cable = model.cables[at(load.cable)];
    const auto carry = [&](int hot, Complex amps) {
      for (int b = load.box; b > 0; b = cable.boxes[at(b)].upstream) {
        if (hot == kNeutral) {
          currents.box_neutral[at(load.cable)][at(b)] += amps;
        } else {
          currents.box_hot[at(load.cable)][at(b)][at(hot)] += amps;
        }
      }
      if (hot == kNeutral) {
        add_to_panels(model, cable.neutral_panel, kNeutral, amps, currents);
      } else {
        add_to_panels(model, cable.hots[at(hot)].panel, cable.hots[at(hot)].leg, amps, currents);
      }
    };
    carry(load.from, solution.load_amps[l]);
    carry(load.to, load.to == kNeutral ? solution.load_amps[l] : -solution.load_amps[l]);
  }
  return currents;
}

// Ohm's law along a length of neutral, or no current where it is removed.
void check_neutral(Complex rise, Complex ohms, Complex amps, bool faulty, bool isolated,
                   const NeutralFault* fault, double volts_within, double amps_within) {
  if (faulty && fault->added_ohms == kOpen) {
    CHECK(close(amps, Complex{}, amps_within));
    return;
  }
  if (isolated) return;
  if (faulty) ohms += fault->added_ohms;
  CHECK(close(rise, ohms * amps, volts_within + amps_within * std::abs(ohms)));
}

void check_panels(const Model& model, const Solution& solution, const Currents& currents,
                  const NeutralFault* fault, double volts_within, double amps_within) {
  for (std::size_t p = 0; p < model.panels.size(); ++p) {
    CAPTURE(p);
    const PanelModel& panel = model.panels[p];
    const PanelState& state = solution.panels[p];
    const bool first = panel.fed_from < 0;
    for (std::size_t l = 0; l < panel.legs.size(); ++l) {
      CAPTURE(l);
      Complex upstream;
      if (first) {
        upstream = model.source[l];
        for (std::size_t b = 0; b < model.source.size(); ++b) {
          upstream -=
              model.source_impedance(static_cast<Eigen::Index>(l), static_cast<Eigen::Index>(b)) *
              currents.panel_hot[0][b];
        }
      } else {
        const std::vector<int>& legs = model.panels[at(panel.fed_from)].legs;
        const auto found = std::find(legs.begin(), legs.end(), panel.legs[l]) - legs.begin();
        upstream = solution.panels[at(panel.fed_from)].hot[static_cast<std::size_t>(found)];
      }
      const Complex amps = currents.panel_hot[p][l];
      CHECK(close(state.hot_amps[l], amps, amps_within));
      CHECK(close(upstream - state.hot[l], panel.run.hot * amps, volts_within));
    }
    CHECK(close(state.neutral_amps, currents.panel_neutral[p], amps_within));
    const bool faulty =
        fault != nullptr && !in_cable(fault->place) && fault->place.panel == static_cast<int>(p);
    const Complex below = first ? Complex{} : solution.panels[at(panel.fed_from)].neutral;
    // The service neutral has the earth return beside it: each by itself obeys Ohm's law.
    const Complex conductor_amps = first ? solution.service_neutral_amps : state.neutral_amps;
    check_neutral(state.neutral - below, panel.run.neutral, conductor_amps, faulty, state.isolated,
                  fault, volts_within, amps_within);
    if (!first) continue;
    CHECK(close(solution.service_neutral_amps + solution.earth_return_amps, state.neutral_amps,
                amps_within));
    if (!model.earth_return_ohms) {
      CHECK(solution.earth_return_amps == Complex{});
    } else {
      CHECK(close(state.neutral, *model.earth_return_ohms * solution.earth_return_amps,
                  volts_within + amps_within * *model.earth_return_ohms));
    }
  }
}

void check_boxes(const Model& model, const Solution& solution, const Currents& currents,
                 const NeutralFault* fault, double volts_within, double amps_within) {
  for (std::size_t c = 0; c < model.cables.size(); ++c) {
    for (std::size_t b = 1; b < model.cables[c].boxes.size(); ++b) {
      CAPTURE(c);
      CAPTURE(b);
      const BoxModel& box = model.cables[c].boxes[b];
      const BoxState& state = solution.boxes[c][b];
      const BoxState& upstream = solution.boxes[c][at(box.upstream)];
      for (int h : box.hots) {
        CAPTURE(h);
        const Complex drop = box.run.hot * currents.box_hot[c][b][at(h)];
        CHECK(close(upstream.hot[at(h)] - state.hot[at(h)], drop, volts_within));
      }
      const bool faulty = fault != nullptr && fault->place.cable == static_cast<int>(c) &&
                          fault->place.box == static_cast<int>(b);
      CHECK(close(state.neutral_amps, currents.box_neutral[c][b], amps_within));
      check_neutral(state.neutral - upstream.neutral, box.run.neutral, state.neutral_amps, faulty,
                    state.isolated, fault, volts_within, amps_within);
    }
  }
}

template <class Check>
void for_each_state(const Check& check) {
  const Tables tables = load_tables();
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    const BuiltHouse house = built(random_house(seed), tables);
    for (const HouseState& state : states_of(house, seed)) {
      CAPTURE(state.what);
      for (const Engine& engine : kEngines) {
        CAPTURE(engine.name);
        const Solution solution = engine.solve(house.model, state.load_admittances, state.fault);
        REQUIRE(solution.status == SolveStatus::Solved);
        check(house.model, state, solution, engine);
      }
    }
  }
}

// With the amperes of every conductor summed from the loads, every conductor obeys Ohm's law, and
// nothing flows through an opened neutral: together these are all equations of the network.
TEST_CASE("properties: Kirchhoff's laws at every node and along every conductor") {
  for_each_state(
      [](const Model& model, const HouseState& state, const Solution& solution, const Engine&) {
        const Currents currents = currents_of(model, solution);
        const double volts_within = kExact * source_volts(model);
        const double amps_within = kExact * all_amps(solution);
        const NeutralFault* fault = state.fault ? &*state.fault : nullptr;
        check_panels(model, solution, currents, fault, volts_within, amps_within);
        check_boxes(model, solution, currents, fault, volts_within, amps_within);
        for (std::size_t l = 0; l < model.loads.size(); ++l) {
          CAPTURE(l);
          CHECK(close(solution.load_amps[l], state.load_admittances[l] * solution.load_volts[l],
                      amps_within));
        }
      });
}

Complex run_power(const RunImpedance& run, const std::vector<Complex>& hot_amps,
                  Complex neutral_amps) {
  Complex power = run.neutral * std::norm(neutral_amps);
  for (const Complex& amps : hot_amps) power += run.hot * std::norm(amps);
  return power;
}

// Tellegen: what the source gives is what loads, transformer, conductors, fault and earth take, in
// watts and in vars.
TEST_CASE("properties: the source's power is that of the loads and losses") {
  for_each_state(
      [](const Model& model, const HouseState& state, const Solution& solution, const Engine&) {
        const std::vector<Complex>& legs = solution.panels[0].hot_amps;
        Complex given{};
        Complex taken{};
        for (std::size_t a = 0; a < legs.size(); ++a) {
          given += model.source[a] * std::conj(legs[a]);
          for (std::size_t b = 0; b < legs.size(); ++b) {
            taken +=
                model.source_impedance(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b)) *
                legs[b] * std::conj(legs[a]);
          }
        }
        for (std::size_t l = 0; l < model.loads.size(); ++l) {
          taken += solution.load_volts[l] * std::conj(solution.load_amps[l]);
        }
        const Currents currents = currents_of(model, solution);
        for (std::size_t p = 0; p < model.panels.size(); ++p) {
          const Complex neutral =
              p == 0 ? solution.service_neutral_amps : solution.panels[p].neutral_amps;
          taken += run_power(model.panels[p].run, solution.panels[p].hot_amps, neutral);
        }
        taken += model.earth_return_ohms.value_or(0) * std::norm(solution.earth_return_amps);
        for (std::size_t c = 0; c < model.cables.size(); ++c) {
          for (std::size_t b = 1; b < model.cables[c].boxes.size(); ++b) {
            taken += run_power(model.cables[c].boxes[b].run, currents.box_hot[c][b],
                               solution.boxes[c][b].neutral_amps);
          }
        }
        if (state.fault && state.fault->added_ohms != kOpen) {
          const Place& place = state.fault->place;
          const Complex amps = in_cable(place)
                                   ? solution.boxes[at(place.cable)][at(place.box)].neutral_amps
                               : place.panel == 0 ? solution.service_neutral_amps
                                                  : solution.panels[at(place.panel)].neutral_amps;
          taken += state.fault->added_ohms * std::norm(amps);
        }
        CHECK(close(given, taken, kExact * source_volts(model) * all_amps(solution)));
      });
}

// The network is linear: a source larger and turned by `factor` makes everything so.
TEST_CASE("properties: scaling and turning the source scales and turns everything") {
  const Complex factor = std::polar(1.7, 0.6);
  for_each_state([&](const Model& model, const HouseState& state, const Solution& solution,
                     const Engine& engine) {
    Model scaled = model;
    for (Complex& leg : scaled.source) leg *= factor;
    const Solution other = engine.solve(scaled, state.load_admittances, state.fault);
    const double within = kExact * source_volts(scaled);
    for (std::size_t p = 0; p < model.panels.size(); ++p) {
      CAPTURE(p);
      CHECK(other.panels[p].isolated == solution.panels[p].isolated);
      if (solution.panels[p].isolated) continue;
      CHECK(close(other.panels[p].neutral, factor * solution.panels[p].neutral, within));
    }
    for (std::size_t l = 0; l < model.loads.size(); ++l) {
      CAPTURE(l);
      if (state.load_admittances[l] == Complex{}) continue;
      CHECK(close(other.load_volts[l], factor * solution.load_volts[l], within));
    }
  });
}

// A measured load draws what the clamp showed, in the house as found.
TEST_CASE("properties: measured loads draw their amperes in the house as found") {
  const Tables tables = load_tables();
  RandomHouseOptions options;
  options.measured = 0.7;
  int measured = 0;
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    const BuiltHouse house = built(random_house(seed, options), tables);
    const std::vector<Complex> y = admittances(house.model, on_as_found(house.model));
    for (const Engine& engine : kEngines) {
      CAPTURE(engine.name);
      const Solution solution = engine.solve(house.model, y, std::nullopt);
      for (std::size_t l = 0; l < house.house.loads.size(); ++l) {
        CAPTURE(l);
        const Load& load = house.house.loads[l];
        if (!load.measured_amps || !load.on) continue;
        ++measured;
        CHECK(close(std::abs(solution.load_amps[l]), *load.measured_amps, kExact));
        if (!load.power_factor) continue;
        const Complex power = solution.load_volts[l] * std::conj(solution.load_amps[l]);
        CHECK(close(power.real() / std::abs(power), *load.power_factor, kExact));
        CHECK((load.leading ? power.imag() <= 0 : power.imag() >= 0));
      }
    }
  }
  CHECK(measured > 0);
}

}  // namespace
}  // namespace evenleg
