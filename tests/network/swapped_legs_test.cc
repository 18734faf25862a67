// In a split-phase house with equal source volts the names of the legs mean nothing: exchanged in
// the description everywhere, they leave every volt and ampere as it was, on the other leg.
#include <doctest/doctest.h>

#include "evenleg/house/validate.h"
#include "evenleg/network/solve.h"
#include "tests/check.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr std::uint64_t kHouses = 200;
constexpr double kExact = 1e-9;

std::string other_leg(const std::string& name) { return name == "L1" ? "L2" : "L1"; }

// Rows of a panel on two legs alternate, so the other leg is one row up or down.
int space_on_other_leg(int space) {
  const int row = (space - 1) / 2;
  return space + (row % 2 == 0 ? 2 : -2);
}

std::string swapped_connect(const std::string& connect) {
  std::string swapped = connect;
  for (std::size_t i = 0; i + 1 < connect.size(); ++i) {
    if (connect[i] == 'L' && connect[i + 1] == '1') swapped[i + 1] = '2';
    if (connect[i] == 'L' && connect[i + 1] == '2') swapped[i + 1] = '1';
  }
  return swapped;
}

House with_swapped_legs(const House& house, const Wiring& wiring) {
  House swapped = house;
  for (std::size_t c = 0; c < swapped.circuits.size(); ++c) {
    Circuit& circuit = swapped.circuits[c];
    circuit.space.reset();
    circuit.legs.clear();
    for (int leg : wiring.circuit_legs[c]) {
      circuit.legs.push_back(other_leg(wiring.system.legs[static_cast<std::size_t>(leg)].name));
    }
  }
  for (std::size_t p = 1; p < swapped.panels.size(); ++p) {
    const WiredPanel& feeding = wiring.panels[static_cast<std::size_t>(wiring.panels[p].fed_from)];
    if (feeding.legs.size() < 2) continue;  // its one leg is exchanged further up
    for (int& space : swapped.panels[p].at_spaces) space = space_on_other_leg(space);
  }
  for (Load& load : swapped.loads) {
    if (load.connect) load.connect = swapped_connect(*load.connect);
  }
  return swapped;
}

TEST_CASE("swapped legs: nothing changes but the names") {
  const Tables tables = load_tables();
  RandomHouseOptions options;
  options.system = "120/240 split-phase";
  options.equal_source_volts = 1;
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    const BuiltHouse house = built(random_house(seed, options), tables);
    const House exchanged = with_swapped_legs(house.house, house.wiring);
    REQUIRE(validate(exchanged, vocabulary(tables)).empty());
    const BuiltHouse swapped = built(exchanged, tables);
    REQUIRE(swapped.places == house.places);
    const double within = kExact * std::abs(house.model.source[0]);
    for (const HouseState& state : states_of(house, seed)) {
      CAPTURE(state.what);
      std::vector<Complex> y(state.load_admittances);
      for (std::size_t l = 0; l < y.size(); ++l) {
        if (y[l] != Complex{}) y[l] = swapped.model.loads[l].admittance;
      }
      const Solution one = solve(house.model, state.load_admittances, state.fault);
      const Solution two = solve(swapped.model, y, state.fault);
      for (std::size_t l = 0; l < y.size(); ++l) {
        CAPTURE(l);
        if (y[l] == Complex{}) continue;
        CHECK(close(std::abs(one.load_volts[l]), std::abs(two.load_volts[l]), within));
      }
      for (int leg : {0, 1}) {
        CAPTURE(leg);
        const auto here = static_cast<std::size_t>(leg);
        const std::size_t there = 1 - here;
        const PanelState& main = one.panels[0];
        CHECK(
            close(std::abs(main.hot_amps[here]), std::abs(two.panels[0].hot_amps[there]), within));
      }
      CHECK(close(std::abs(one.service_neutral_amps), std::abs(two.service_neutral_amps), within));
    }
  }
}

}  // namespace
}  // namespace evenleg
