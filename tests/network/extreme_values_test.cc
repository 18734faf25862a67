// Extreme but legal values: every answer holds its equations and is a number, by both engines, and
// the dense engine of these tests agrees.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "evenleg/network/solve.h"
#include "evenleg/tables/tables.h"
#include "src/network/residual.h"
#include "tests/check.h"
#include "tests/network/dense_engine.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

using Dice = std::mt19937_64;

double any_of(std::initializer_list<double> values, Dice& dice) {
  return values.begin()[dice() % values.size()];
}

// The ends of the ranges in src/house/fields.cc, and what lies near them.
void make_extreme(House& house, Dice& dice) {
  const auto run = [&](Run& of) {
    of.conductor.reset();
    of.neutral.reset();
    of.length_ft.reset();
    of.length_m.reset();
    of.hot_ohms = any_of({0, 1e-6, 1e-3, 0.1, 1, 1e3, 1e6}, dice);
    of.neutral_ohms = any_of({0, 1e-6, 1e-3, 0.1, 1, 1e3, 1e6}, dice);
  };
  const auto sometimes = [&](Run& of) {
    if (dice() % 2 == 0) run(of);
  };
  if (house.service) sometimes(house.service->run);
  if (house.service && house.service->earth_return_ohms) {
    house.service->earth_return_ohms = any_of({1e-3, 1, 1e6}, dice);
  }
  for (std::size_t p = 1; p < house.panels.size(); ++p) sometimes(house.panels[p].run);
  for (Circuit& circuit : house.circuits) sometimes(circuit.run);
  for (Multiwire& multiwire : house.multiwires) sometimes(multiwire.run);
  for (Outlet& outlet : house.outlets) sometimes(outlet.run);
  const bool all_off = dice() % 8 == 0;
  for (Load& load : house.loads) {
    if (load.measured_amps) continue;  // what they can draw depends on all the rest
    if (load.watts) load.watts = any_of({0.01, 1, 1500, 1e6}, dice);
    if (load.watts && dice() % 2 == 0) load.power_factor = any_of({0.01, 0.5, 1}, dice);
    if (load.ohms) load.ohms = any_of({1e-6, 1, 1e6}, dice);
    if (all_off) load.on = false;
  }
}

void check_numbers(const Solution& solution) {
  for (const Complex& volts : solution.load_volts) CHECK(std::isfinite(std::abs(volts)));
  for (const Complex& amps : solution.load_amps) CHECK(std::isfinite(std::abs(amps)));
  for (const PanelState& panel : solution.panels) {
    CHECK(std::isfinite(std::abs(panel.neutral)));
    CHECK(std::isfinite(std::abs(panel.neutral_amps)));
  }
}

TEST_CASE("network: extreme but legal values are solved, and each answer holds its equations") {
  const Tables tables = load_tables();
  constexpr std::uint64_t kHouses = 400;
  double worst = 0, worst_sparse = 0, apart = 0;
  int states = 0, told = 0;
  for (std::uint64_t seed = 1; seed <= kHouses; ++seed) {
    CAPTURE(seed);
    Dice dice(seed);
    RandomHouseOptions options;
    options.loads = static_cast<int>(dice() % 7);
    options.measured = 0;
    House house = random_house(seed, options);
    make_extreme(house, dice);
    const BuiltHouse one = built(house, tables);
    std::vector<std::optional<NeutralFault>> faults{std::nullopt};
    for (const Place& place : one.places) {
      for (const double ohms : {1e-6, 1.0, 1e6, kOpen}) faults.push_back(NeutralFault{place, ohms});
    }
    const std::vector<Complex> loads = admittances(one.model, on_as_found(one.model));
    for (const auto& fault : faults) {
      CAPTURE(fault.has_value());
      if (fault) CAPTURE(fault->added_ohms);
      const Solution solution = solve(one.model, loads, fault);
      const Solution second = solve_sparse(one.model, loads, fault);
      // A load of a microhm beside one of a megohm leaves too few digits; it must be told then.
      CHECK((solution.status == SolveStatus::Solved) == (solution.residual <= kMostResidual));
      if (solution.status != SolveStatus::Solved) ++told;
      check_numbers(solution);
      worst = std::max(worst, solution.residual);
      worst_sparse = std::max(worst_sparse, second.residual);
      const DenseSolution dense =
          solve_dense(circuit_elements(one.house, one.wiring, tables, loads, fault));
      for (std::size_t l = 0; l < loads.size(); ++l) {
        apart = std::max(apart, std::abs(solution.load_amps[l] - dense.load_amps[l]) /
                                    (1 + std::abs(dense.load_amps[l])));
      }
      ++states;
    }
  }
  MESSAGE(states, " states, ", told, " told as inaccurate: residual ", worst,
          ", of the sparse engine ", worst_sparse, ", load amperes apart ", apart);
  CHECK(told * 1000 < states);
  CHECK(worst < 1e-3);
  CHECK(apart < 1e-6);
}

TEST_CASE("network: an answer that does not hold its equations is not called solved") {
  const Tables tables = load_tables();
  const BuiltHouse one = built(random_house(3), tables);
  const std::vector<Complex> loads = admittances(one.model, on_as_found(one.model));
  const Solution sound = solve(one.model, loads);
  REQUIRE(sound.status == SolveStatus::Solved);
  CHECK(sound.residual < 1e-12);
  // Any one number of it changed by a little more than is allowed.
  const auto spoilt = [&](const auto& change) {
    Solution solution = sound;
    change(solution);
    judge_residual(one.model, loads, std::nullopt, solution);
    return solution.status;
  };
  constexpr double kVolts = 0.001;
  CHECK(spoilt([](Solution&) {}) == SolveStatus::Solved);
  CHECK(spoilt([](Solution& s) { s.panels[0].neutral += kVolts; }) == SolveStatus::Inaccurate);
  CHECK(spoilt([](Solution& s) { s.panels[0].hot[0] += kVolts; }) == SolveStatus::Inaccurate);
  CHECK(spoilt([](Solution& s) { s.boxes[0].back().neutral += kVolts; }) ==
        SolveStatus::Inaccurate);
  CHECK(spoilt([](Solution& s) { s.panels[0].neutral_amps += 1; }) == SolveStatus::Inaccurate);
  CHECK(spoilt([](Solution& s) { s.boxes[0].back().neutral = std::nan(""); }) ==
        SolveStatus::Inaccurate);
}

}  // namespace
}  // namespace evenleg
