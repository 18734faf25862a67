#include "evenleg/balance/leg_loads.h"

#include <doctest/doctest.h>

#include "evenleg/balance/balance.h"
#include "evenleg/describe/describe.h"
#include "tests/check.h"

namespace evenleg {
namespace {

struct Legs {
  House house;
  std::vector<LegLoads> loads;
};

Legs legs_of(std::string_view text) {
  const Tables tables = load_tables();
  const Vocabulary words = vocabulary(tables);
  Legs legs{read_description(text, "test.toml", words), {}};
  const Wiring wiring = wire(legs.house, *find_system(words, legs.house.supply.system));
  legs.loads = leg_loads(legs.house, wiring, circuit_loads(legs.house, wiring, tables));
  return legs;
}

// F. H. Richardson, Bluebook of Projection, p. 101: loads of 6, 6 and 4 A on one leg, 4 and 4 A on
// the other, 16 A and 8 A, 8 A in the neutral; the third moved over, 12 and 12 A, none in the
// neutral. The arithmetic does not depend on the volts of the system.
constexpr std::string_view kFiveLoads = R"(
[house]
name = "Five loads"
[supply]
system = "120/240 split-phase"
[[panel]]
name = "Main"
spaces = 8
[[circuit]]
name = "One"
space = 1
[[circuit]]
name = "Two"
space = 2
[[circuit]]
name = "Three"
space = 5
[[circuit]]
name = "Four"
space = 3
[[circuit]]
name = "Five"
space = 4
[[load]]
name = "Six"
at = "One"
amps = 6
[[load]]
name = "Another six"
at = "Two"
amps = 6
[[load]]
name = "Four amperes"
at = "Three"
amps = 4
[[load]]
name = "Other leg"
at = "Four"
amps = 4
[[load]]
name = "Other leg, too"
at = "Five"
amps = 4
)";

TEST_CASE("a published rebalancing: 16 and 8 A, one move, 12 and 12 A") {
  const Legs legs = legs_of(kFiveLoads);
  CHECK(matches_printed(legs.loads[0].service[0], "16"));
  CHECK(matches_printed(legs.loads[0].service[1], "8"));
  const Balance found = balance(legs.house, load_tables());
  CHECK(matches_printed(found.spread_amps, "8"));
  REQUIRE(found.plans.size() == 1);
  CHECK(found.plans[0].moves == 1);
  CHECK(found.plans[0].proven);
  CHECK(close(found.plans[0].spread_amps, 0, 1e-9));
  CHECK(legs.house.circuits[static_cast<std::size_t>(found.plans[0].moved[0].circuit)].name ==
        "Three");
  CHECK(matches_printed(found.plans[0].scenarios[0].service[0], "12"));
  CHECK(matches_printed(found.plans[0].scenarios[0].service[1], "12"));
}

TEST_CASE("scenarios, shares, readings and two poles, by hand") {
  const Legs legs = legs_of(R"(
[house]
name = "By hand"
[supply]
system = "120/240 split-phase"
[[panel]]
name = "Main"
spaces = 12
[[panel]]
name = "Shed"
spaces = 4
fed_from = "Main"
at_spaces = [9, 11]
[[circuit]]
name = "Range"
space = 1
poles = 2
[[circuit]]
name = "Lights"
space = 2
measured_amps = 3.5
[[circuit]]
name = "Bench"
panel = "Shed"
space = 3
[[load]]
name = "Elements"
at = "Range"
watts = 4800
[[load]]
name = "Clock"
at = "Range"
connect = "L1-N"
watts = 12
[[load]]
name = "Lamps"
at = "Lights"
watts = 240
[[load]]
name = "Saw"
at = "Bench"
amps = 9
on = false
[[scenario]]
name = "Work"
share = { "Saw" = 0.5, "Lamps" = 1.0 }
)");
  // 4800 W / 240 V = 20 A on both legs, 12 W / 120 V = 0.1 A on L1; 3.5 A read on L1 in place of 2.
  CHECK(close(legs.loads[0].service[0], 23.6, 1e-9));
  CHECK(close(legs.loads[0].service[1], 20, 1e-9));
  // Space 3 of the shed is on its second leg, L2: half of 9 A. The reading holds as found only.
  CHECK(legs.loads[1].scenario == "Work");
  CHECK(close(legs.loads[1].service[0], 2, 1e-9));
  CHECK(close(legs.loads[1].service[1], 4.5, 1e-9));
  CHECK(close(legs.loads[1].panels[1][1], 4.5, 1e-9));
  CHECK(close(legs.loads[1].panels[0][1], 4.5, 1e-9));
  CHECK(measured_circuits(legs.house) == std::vector<int>{1});
}

TEST_CASE("imbalance by the trades' formulas, by hand") {
  // 60 and 40 A: 10 of a mean of 50; 20 of 60; 20 of half of 100.
  const Imbalance two = imbalance({60, 40});
  CHECK(close(two.by_mean, 20, 1e-9));
  CHECK(matches_printed(two.by_largest, "33.3"));
  CHECK(close(two.by_half, 40, 1e-9));
  // 30, 20, 10: 10 of a mean of 20; 20 of 30.
  const Imbalance three = imbalance({30, 20, 10});
  CHECK(close(three.by_mean, 50, 1e-9));
  CHECK(matches_printed(three.by_largest, "66.7"));
  CHECK(three.by_half == 0);
  CHECK(imbalance({0, 0}).by_largest == 0);
}

}  // namespace
}  // namespace evenleg
