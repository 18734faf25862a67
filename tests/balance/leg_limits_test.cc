#include "evenleg/balance/leg_limits.h"

#include <doctest/doctest.h>

#include "evenleg/describe/describe.h"
#include "tests/check.h"

namespace evenleg {
namespace {

// By hand, 120/240 V: on L1 a kettle 1440/120 = 12 A and an iron 1200/120 = 10 A, on L2 a lamp 0.5
// A and, in the workshop, a saw 1080/120 = 9 A; across both a heater 2400/240 = 10 A.
//   as found  L1 12 + 10 + 10 = 32 A, L2 0.5 + 9 + 10 = 19.5 A, workshop L2 9 A
//   Morning   half a kettle and the lamp: L1 6 A, L2 0.5 A
constexpr std::string_view kHouse = R"(
[house]
name = "Six loads"
[supply]
system = "120/240 split-phase"
[service]
breaker_a = 20
[[panel]]
name = "Main"
spaces = 12
[[panel]]
name = "Workshop"
spaces = 4
fed_from = "Main"
at_spaces = [9, 11]
breaker_a = 8
[[circuit]]
name = "Counter"
space = 1
[[circuit]]
name = "Laundry"
space = 2
[[circuit]]
name = "Hall"
space = 3
[[circuit]]
name = "Heating"
space = 5
poles = 2
[[circuit]]
name = "Bench"
panel = "Workshop"
space = 3
[[load]]
name = "Kettle"
at = "Counter"
watts = 1440
[[load]]
name = "Iron"
at = "Laundry"
watts = 1200
[[load]]
name = "Lamp"
at = "Hall"
watts = 60
[[load]]
name = "Heater"
at = "Heating"
watts = 2400
[[load]]
name = "Saw"
at = "Bench"
watts = 1080
[[scenario]]
name = "Morning"
share = { "Kettle" = 0.5, "Lamp" = 1.0 }
)";

House house() { return read_description(kHouse, "test.toml", vocabulary(load_tables())); }

std::vector<LegLimit> limits(const House& house, const LimitOptions& options = {}) {
  const Tables tables = load_tables();
  const Wiring wiring = wire(house, *find_system(vocabulary(tables), house.supply.system));
  return leg_limits(house, wiring, tables, options);
}

std::vector<std::string> shed_names(const House& house, const LegLimit& row) {
  std::vector<std::string> names;
  for (const Shed& shed : row.shed) {
    names.push_back(shed.load >= 0 ? house.loads[static_cast<std::size_t>(shed.load)].name
                                   : house.circuits[static_cast<std::size_t>(shed.circuit)].name);
  }
  return names;
}

using Names = std::vector<std::string>;

TEST_CASE("leg limits: each panel's breaker against its fullest leg, by scenario") {
  const std::vector<LegLimit> rows = limits(house());
  REQUIRE(rows.size() == 4);
  CHECK(rows[0].panel == 0);
  CHECK(rows[0].scenario == "as found");
  CHECK(rows[0].leg == 0);
  CHECK(close(rows[0].amps[0], 32, 1e-9));
  CHECK(close(rows[0].amps[1], 19.5, 1e-9));
  CHECK(close(rows[0].over_amps, 12, 1e-9));
  CHECK(rows[1].scenario == "Morning");
  CHECK(close(rows[1].over_amps, 6 - 20, 1e-9));
  CHECK(rows[1].shed.empty());
  CHECK(rows[2].panel == 1);
  CHECK(rows[2].leg == 1);
  CHECK(close(rows[2].over_amps, 1, 1e-9));
  CHECK(shed_names(house(), rows[2]) == Names{"Saw"});
  CHECK(close(rows[3].amps[1], 0, 1e-9));
}

TEST_CASE("leg limits: the largest load on the leg that is over goes first, until it fits") {
  const LegLimit twenty = limits(house())[0];
  CHECK(shed_names(house(), twenty) == Names{"Kettle"});  // 32 - 12 = 20
  CHECK(twenty.fits);
  CHECK(close(twenty.left[0], 20, 1e-9));
  CHECK(close(twenty.left[1], 19.5, 1e-9));
  // 15 A: kettle and iron leave 10 A on L1; then L2 has 19.5 A, and the heater is its largest.
  const LegLimit fifteen = limits(house(), {15.0, 0})[0];
  CHECK(shed_names(house(), fifteen) == Names{"Kettle", "Iron", "Heater"});
  CHECK(fifteen.shed[2].leg == 1);
  CHECK(close(fifteen.shed[2].amps, 10, 1e-9));
  CHECK(close(fifteen.left[0], 0, 1e-9));
  CHECK(close(fifteen.left[1], 9.5, 1e-9));
}

TEST_CASE("leg limits: a limit that is given stands for its panel alone") {
  const std::vector<LegLimit> rows = limits(house(), {40.0, 1});
  CHECK(rows[0].limit_amps == 20);
  CHECK(rows[2].limit_amps == 40);
  CHECK(close(rows[2].over_amps, 9 - 40, 1e-9));
  House open = house();
  open.service.reset();
  CHECK(limits(open).size() == 2);
  CHECK(limits(open, {25.0, 0}).size() == 4);
}

TEST_CASE("leg limits: what is always on is shed last") {
  House changed = house();
  changed.loads[0].switching = "always on";
  const LegLimit row = limits(changed)[0];
  CHECK(shed_names(changed, row) == Names{"Iron", "Heater"});  // 32 - 10 - 10 = 12
  const LegLimit nothing_left = limits(changed, {5.0, 0})[0];
  // L1: 32, 22, 12, 0 A; then L2 has 9.5 A.
  CHECK(shed_names(changed, nothing_left) == Names{"Iron", "Heater", "Kettle", "Saw"});
  CHECK(nothing_left.shed[2].always_on);
  CHECK(close(nothing_left.left[0], 0, 1e-9));
}

TEST_CASE("leg limits: a clamped circuit is shed as a whole, as found only") {
  House changed = house();
  changed.circuits[0].measured_amps = 14;
  const std::vector<LegLimit> rows = limits(changed);
  CHECK(close(rows[0].amps[0], 34, 1e-9));
  REQUIRE(rows[0].shed.size() == 1);
  CHECK(rows[0].shed[0].load == -1);
  CHECK(rows[0].shed[0].circuit == 0);
  CHECK(close(rows[0].left[0], 20, 1e-9));
  CHECK(close(rows[1].amps[0], 6, 1e-9));  // Morning, by the nameplate
}

}  // namespace
}  // namespace evenleg
