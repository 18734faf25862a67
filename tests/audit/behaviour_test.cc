#include "evenleg/audit/behaviour.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/audit/described_audit.h"
#include "tests/check.h"

namespace evenleg {
namespace {

// No wiring between source and panel: a supply of 150 W against 144 W of resistance on the other
// leg has no balance point (P > E²/4R = 240² / 400 = 144 W).
constexpr std::string_view kHouse = R"(format = 1
[house]
name = "Fernhill Cottage"
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
space = 3
[[load]]
name = "Set"
at = "One"
kind = "television"
watts = 150
power_factor = 1
[[load]]
name = "Heater"
at = "Two"
watts = 144
[[load]]
name = "Small heater"
at = "Two"
watts = 72
on = false
)";

TEST_CASE("audit: behaviour stands beside the reference for both states") {
  const DescribedAudit described = audit_of(kHouse);
  const OpenNeutral& open = described.open("service");
  // The reference: 240 V in the ratio of impedances, 96 ohm (150 W) and 100 ohm.
  CHECK(close(described.extremes("service", "Set").as_found->si(), 240.0 * 96 / 196, 1e-9));
  REQUIRE(open.behaviour.size() == 2);
  CHECK(open.behaviour[0].as_found);
  CHECK_FALSE(any_stable(open.behaviour[0].result));
  CHECK(departs(open.behaviour[0].result));
  CHECK_FALSE(open.behaviour[1].as_found);
  // Highest anywhere in the reference: the small heater, 200 ohm, against the set alone, 240 * 200
  // / 296.
  CHECK(open.behaviour[1].worst_load == described.load("Small heater"));
  CHECK(open.behaviour[1].on ==
        std::vector<int>{described.load("Set"), described.load("Small heater")});
}

TEST_CASE("audit: nothing is told where all that runs beyond is constant impedance") {
  std::string text(kHouse);
  text.replace(text.find("television"), std::string_view("television").size(), "plain");
  CHECK(audit_of(text).open("service").behaviour.empty());
}

// The same set behind a loose neutral of 0.5 ohm, 0.72 A apart: -1.25/120... stays near 120 V and
// holds. By hand with d = 0.5 (I1 - I2), I1 = 150 / (120 - d), I2 = (120 + d) / 100: d = 0.5 (1.25
// - 1.2) = 0.025 at first, and corrected by 0.5 d (1.25/120 - 1/100) it moves by less than 1e-5.
TEST_CASE("behaviour_at: a loose neutral in a chosen state") {
  const DescribedAudit described = audit_of(kHouse);
  const Tables tables = load_tables();
  const BehaviourResult result = behaviour_at(
      described.house, tables, {described.open("service").place, 0.5}, {true, true, false});
  REQUIRE(any_stable(result));
  CHECK(close(result.points[0].displacement.si(), Complex(0.025), 2e-5));
  CHECK_FALSE(departs(result));
}

}  // namespace
}  // namespace evenleg
