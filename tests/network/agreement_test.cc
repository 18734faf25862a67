// Three engines on the same random houses: elimination by cable, sparse nodal analysis, and the
// dense engine of these tests. Volts agree to 1e-9 of the source's, amperes to 1e-9 of all that
// flows. Potentials that nothing holds are not compared; that nothing holds them is.
#include <doctest/doctest.h>

#include <algorithm>
#include <string_view>

#include "evenleg/network/solve.h"
#include "tests/check.h"
#include "tests/network/dense_engine.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr double kAgreement = 1e-9;

struct Scale {
  double volts = 0;
  double amps = 1;
};

Scale scale_of(const BuiltHouse& house, const DenseSolution& dense) {
  Scale scale;
  for (const Complex& leg : house.model.source) scale.volts = std::max(scale.volts, std::abs(leg));
  for (const Complex& load : dense.load_amps) scale.amps += std::abs(load);
  return {scale.volts * kAgreement, scale.amps * kAgreement};
}

void compare_node(Complex potential, bool isolated, int node, const DenseSolution& dense,
                  const Scale& within) {
  const auto n = static_cast<std::size_t>(node);
  CHECK(isolated == dense.open[n]);
  if (!dense.open[n]) CHECK(close(potential, dense.volts[n], within.volts));
}

void compare_panels(const Solution& solution, const CircuitElements& elements,
                    const DenseSolution& dense, const Scale& within) {
  REQUIRE(solution.panels.size() == elements.panels.size());
  for (std::size_t p = 0; p < solution.panels.size(); ++p) {
    CAPTURE(p);
    const PanelState& panel = solution.panels[p];
    const PanelNodes& nodes = elements.panels[p];
    compare_node(panel.neutral, panel.isolated, nodes.neutral, dense, within);
    Complex neutral_amps = -dense.conductor_amps[static_cast<std::size_t>(nodes.neutral_conductor)];
    if (p == 0 && elements.earth_return >= 0) {
      neutral_amps -= dense.conductor_amps[static_cast<std::size_t>(elements.earth_return)];
    }
    CHECK(close(panel.neutral_amps, neutral_amps, within.amps));
    for (std::size_t leg = 0; leg < nodes.hot.size(); ++leg) {
      CAPTURE(leg);
      compare_node(panel.hot[leg], false, nodes.hot[leg], dense, within);
      const auto conductor = static_cast<std::size_t>(nodes.hot_conductor[leg]);
      CHECK(close(panel.hot_amps[leg], dense.conductor_amps[conductor], within.amps));
    }
  }
}

void compare_boxes(const Solution& solution, const CircuitElements& elements,
                   const DenseSolution& dense, const Scale& within) {
  for (std::size_t c = 0; c < elements.boxes.size(); ++c) {
    for (std::size_t b = 1; b < elements.boxes[c].size(); ++b) {
      CAPTURE(c);
      CAPTURE(b);
      const BoxState& box = solution.boxes[c][b];
      const BoxNodes& nodes = elements.boxes[c][b];
      compare_node(box.neutral, box.isolated, nodes.neutral, dense, within);
      const auto conductor = static_cast<std::size_t>(nodes.neutral_conductor);
      CHECK(close(box.neutral_amps, -dense.conductor_amps[conductor], within.amps));
      for (std::size_t h = 0; h < nodes.hot.size(); ++h) {
        CAPTURE(h);
        if (nodes.hot[h] == kNoNode) continue;
        compare_node(box.hot[h], false, nodes.hot[h], dense, within);
      }
    }
  }
}

void compare_loads_and_service(const Solution& solution, const CircuitElements& elements,
                               const DenseSolution& dense, const Scale& within) {
  for (std::size_t l = 0; l < elements.loads.size(); ++l) {
    CAPTURE(l);
    const LoadElement& load = elements.loads[l];
    CHECK(close(solution.load_amps[l], dense.load_amps[l], within.amps));
    const auto from = static_cast<std::size_t>(load.from);
    const auto to = static_cast<std::size_t>(load.to);
    if (dense.open[from] || dense.open[to]) continue;
    CHECK(close(solution.load_volts[l], dense.volts[from] - dense.volts[to], within.volts));
  }
  const auto neutral = static_cast<std::size_t>(elements.panels[0].neutral_conductor);
  CHECK(close(solution.service_neutral_amps, -dense.conductor_amps[neutral], within.amps));
  Complex earth{};
  if (elements.earth_return >= 0) {
    earth = -dense.conductor_amps[static_cast<std::size_t>(elements.earth_return)];
  }
  CHECK(close(solution.earth_return_amps, earth, within.amps));
}

void compare_house(const House& house, const Tables& tables, std::uint64_t seed, int& isolated) {
  const BuiltHouse made = built(house, tables);
  for (const HouseState& state : states_of(made, seed)) {
    CAPTURE(state.what);
    const CircuitElements elements =
        circuit_elements(made.house, made.wiring, tables, state.load_admittances, state.fault);
    const DenseSolution dense = solve_dense(elements);
    const Scale within = scale_of(made, dense);
    CHECK(close(dense.residual, 0, within.volts));
    isolated += std::count(dense.open.begin(), dense.open.end(), true) > 0 ? 1 : 0;
    struct Engine {
      std::string_view name;
      Solution (*solve)(const Model&, const std::vector<Complex>&,
                        const std::optional<NeutralFault>&);
    };
    for (const Engine& engine : {Engine{"cables", solve}, Engine{"sparse", solve_sparse}}) {
      CAPTURE(engine.name);
      const Solution solution = engine.solve(made.model, state.load_admittances, state.fault);
      REQUIRE(solution.status == SolveStatus::Solved);
      compare_panels(solution, elements, dense, within);
      compare_boxes(solution, elements, dense, within);
      compare_loads_and_service(solution, elements, dense, within);
    }
  }
}

TEST_CASE("agreement: three engines on random houses, whole and with every neutral faulty") {
  constexpr std::uint64_t kHouses = 150;
  const Tables tables = load_tables();
  int isolated = 0;
  RandomHouseOptions small;  // the dense engine's time grows with the cube of the size
  small.loads = 5;
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    compare_house(random_house(seed, small), tables, seed, isolated);
  }
  CHECK(isolated > 0);  // some neutral hung on nothing, so that the flags were compared
}

TEST_CASE("agreement: every supply system, with nothing but multiwires and sub-panels") {
  constexpr std::uint64_t kHouses = 5;
  const Tables tables = load_tables();
  int isolated = 0;
  for (const std::string& system : every_supply_system()) {
    CAPTURE(system);
    RandomHouseOptions options;
    options.system = system;
    options.multiwire = 1;
    options.most_sub_panels = 3;
    for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
      CAPTURE(seed);
      compare_house(random_house(seed, options), tables, seed, isolated);
    }
  }
}

}  // namespace
}  // namespace evenleg
