// Plans against every assignment of circuits to legs (every_plan.h).
#include "evenleg/balance/balance.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/balance/every_plan.h"
#include "tests/balance/random_panel.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSame = 1e-6;  // A

void check_panel(const House& house, const Tables& tables, bool keep_spares) {
  const Balance found = balance(house, tables, {.keep_spares = keep_spares});
  CHECK(found.complete);
  const std::vector<double> expected = every_plan(house, tables, keep_spares);
  double best = found.spread_amps;
  std::size_t next = 0;
  for (std::size_t moves = 1; moves < expected.size(); ++moves) {
    CAPTURE(moves);
    if (expected[moves] >= best - kSame) continue;
    best = expected[moves];
    REQUIRE(next < found.plans.size());
    const BalancePlan& plan = found.plans[next++];
    CHECK(plan.moves == static_cast<int>(moves));
    CHECK(plan.proven);
    CHECK(close(plan.spread_amps, best, kSame));
    const House planned = with_plan(house, plan);
    CHECK(not_buildable(house, planned, tables) == "");
    int counted = 0;
    for (const CircuitMove& move : plan.moved) counted += move.counts() ? 1 : 0;
    CHECK(counted == plan.moves);
    if (keep_spares) {
      for (const CircuitMove& move : plan.moved) {
        bool was_taken = false;
        for (const Circuit& circuit : house.circuits) {
          for (int pole = 0; pole < circuit.poles; ++pole) {
            was_taken = was_taken || *circuit.space + 2 * pole == move.to_space;
          }
        }
        CHECK(was_taken);
      }
    }
  }
  CHECK(next == found.plans.size());
}

TEST_CASE("eight random panels of 20 spaces: every plan is the best of all assignments") {
  const Tables tables = load_tables();
  for (std::uint32_t seed = 1; seed <= 8; ++seed) {
    CAPTURE(seed);
    const House house = random_panel(seed);
    check_panel(house, tables, false);
    check_panel(house, tables, true);
  }
}

TEST_CASE("random panels on three legs: every plan is the best of all assignments") {
  const Tables tables = load_tables();
  RandomPanelOptions options;
  options.system = "120/208 wye";
  options.spaces = 12;
  for (std::uint32_t seed = 1; seed <= 12; ++seed) {
    CAPTURE(seed);
    check_panel(random_panel(seed, options), tables, seed % 2 == 0);
  }
}

TEST_CASE("small panels of every sort") {
  const Tables tables = load_tables();
  RandomPanelOptions options;
  options.spaces = 8;
  options.multiwire = 0.4;
  options.joined = 0.3;
  options.two_poles = 0.3;
  options.tandem = 0.2;
  options.locked = 0.2;
  for (std::uint32_t seed = 1; seed <= 120; ++seed) {
    CAPTURE(seed);
    options.system = seed % 2 == 0 ? "120/208 wye" : "120/240 split-phase";
    options.empty = seed % 3 == 0 ? 0.4 : 0.0;
    check_panel(random_panel(seed, options), tables, seed % 5 == 0);
  }
}

House one_panel(int spaces) {
  House house;
  house.supply.system = "120/240 split-phase";
  Panel panel;
  panel.name = "Main";
  panel.spaces = spaces;
  house.panels.push_back(panel);
  return house;
}

Circuit& add_circuit(House& house, const std::string& name, int space, double watts) {
  Circuit circuit;
  circuit.name = name;
  circuit.space = space;
  circuit.breaker_a = 20;
  house.circuits.push_back(circuit);
  Load load;
  load.name = name + " load";
  load.at = name;
  load.watts = watts;
  house.loads.push_back(load);
  return house.circuits.back();
}

// By hand: a half on L2 (2 A) and one on L1 (3 A) in space 1, 15 A in space 2 (L1), space 3 (L2)
// free. As found |18 - 2| = 16 A; the 15 A to space 3: |3 - 17| = 14 A; the 3 A there:
// |15 - 5| = 10 A. The half on L2 finds no place on L1 alone.
TEST_CASE("the halves of a tandem breaker keep a leg each") {
  House house = one_panel(3);
  add_circuit(house, "Own leg", 1, 360);
  add_circuit(house, "Other leg", 1, 240).legs = {"L2"};
  add_circuit(house, "Large", 2, 1800);
  const Balance found = balance(house, load_tables());
  CHECK(close(found.spread_amps, 16, kSame));
  REQUIRE(!found.plans.empty());
  CHECK(found.plans[0].moves == 1);
  CHECK(close(found.plans[0].spread_amps, 10, kSame));
  REQUIRE(found.plans[0].moved.size() == 1);
  CHECK(found.plans[0].moved[0].to_space == 3);
  CHECK(found.plans[0].moved[0].to_legs == std::vector<std::string>{"L2"});
}

// Both hots on L1; the one that moves takes its own load along, the other's stays.
TEST_CASE("a multiwire on one leg is parted, and loads that name legs follow their own circuit") {
  House house = one_panel(8);
  add_circuit(house, "Left", 1, 1200);
  add_circuit(house, "Right", 2, 600);
  Multiwire multiwire;
  multiwire.name = "Pair";
  multiwire.circuits = {"Left", "Right"};
  house.multiwires.push_back(multiwire);
  Outlet outlet;
  outlet.name = "Box";
  outlet.on = "Pair";
  house.outlets.push_back(outlet);
  for (Load& load : house.loads) {
    load.circuit = load.at;
    load.at = "Box";
    load.connect = "L1-N";
  }
  const Balance found = balance(house, load_tables());
  REQUIRE(found.plans.size() == 1);
  CHECK(close(found.plans[0].spread_amps, 5, kSame));
  const House planned = with_plan(house, found.plans[0]);
  int on_second = 0;
  for (std::size_t c = 0; c < 2; ++c) {
    const bool moved = (*planned.circuits[c].space - 1) / 2 % 2 == 1;
    CHECK(planned.loads[c].connect == (moved ? "L2-N" : "L1-N"));
    on_second += moved ? 1 : 0;
  }
  CHECK(on_second == 1);
}

// By hand: 20 + 10 + 10 A on L1 and 20 + 1 A on L2 as found; with the two hots changed over 31 and
// 30 A. Room for them one above the other is there once the heater slides to spaces 1 and 3.
TEST_CASE("a two-pole circuit that slides by a row is not counted as moved") {
  House house = one_panel(8);
  add_circuit(house, "Spare upper", 1, 0.001);
  add_circuit(house, "Heater", 3, 4800).poles = 2;
  add_circuit(house, "Spare lower", 7, 0.001);
  add_circuit(house, "Left", 2, 1200);
  add_circuit(house, "Right", 8, 120);
  add_circuit(house, "Locked upper", 4, 0.001).locked = true;
  add_circuit(house, "Locked lower", 6, 1200).locked = true;
  Multiwire multiwire;
  multiwire.name = "Pair";
  multiwire.circuits = {"Left", "Right"};
  house.multiwires.push_back(multiwire);
  const Balance found = balance(house, load_tables());
  REQUIRE(found.plans.size() == 1);
  const BalancePlan& plan = found.plans[0];
  CHECK(plan.moves == 2);
  CHECK(close(plan.spread_amps, 1, 1e-3));
  int counted = 0;
  bool slid = false;
  for (const CircuitMove& move : plan.moved) {
    counted += move.counts() ? 1 : 0;
    if (house.circuits[static_cast<std::size_t>(move.circuit)].poles == 2) slid = !move.counts();
  }
  CHECK(counted == 2);
  CHECK(slid);
}

}  // namespace
}  // namespace evenleg
