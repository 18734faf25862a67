// How many ohms a joint may add before a load leaves its limits.
#include "src/audit/neutral_limit.h"

#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/audit/neutral.h"
#include "evenleg/describe/describe.h"
#include "tests/audit/described_audit.h"
#include "tests/check.h"

namespace evenleg {
namespace {

// A kettle of 10 ohm on L1 and a lamp of 240 ohm on L2, on an ideal service; by hand, n the volts
// by which a neutral with R ohms is displaced:
//   (120 - n) / 10 = n / R + (120 + n) / 240,
// so that the lamp has 132 V at n = 12 V:
//   1 / R = (120 (1/10 - 1/240) - 12 (1/10 + 1/240)) / 12 = 10.25 / 12 A/V,   R = 1.170732 ohm.
constexpr std::string_view kTwoLoads = R"(
[house]
name = "Two loads"
[supply]
system = "120/240 split-phase"
[[panel]]
name = "Main"
spaces = 4
[[circuit]]
name = "Left"
panel = "Main"
space = 1
[[circuit]]
name = "Right"
panel = "Main"
space = 3
[[load]]
name = "Kettle"
at = "Left"
kind = "plain"
watts = 1440
[[load]]
name = "Lamp"
at = "Right"
kind = "plain"
watts = 60
max_volts = 132
)";

constexpr double kByHand = 12 / 10.25;

TEST_CASE("two loads on an ideal service: the root by hand") {
  const DescribedAudit two = audit_of(kTwoLoads);
  const std::optional<NeutralLimit>& limit = two.open("service").limit;
  REQUIRE(limit);
  CHECK(close(limit->ohms.si(), kByHand, 1e-6));
  CHECK(limit->load == two.load("Lamp"));
  CHECK(limit->volts.si() == 132);
  CHECK(limit->on == std::vector<int>{two.load("Kettle"), two.load("Lamp")});
  CHECK(limit->proven);
  REQUIRE(two.neutral("service").limit);
  CHECK(two.neutral("service").limit->ohms == limit->ohms);
}

TEST_CASE("the joint at its limit: 10.25 A and 12 V across it, 123 W, by hand") {
  const DescribedAudit two = audit_of(kTwoLoads);
  const NeutralDepth depth = neutral_in_depth(two.house, load_tables(), "service");
  REQUIRE(depth.high);
  bool seen = false;
  for (const NeutralPoint& point : depth.curve) {
    if (point.added != depth.high->ohms) continue;
    seen = true;
    CHECK(close(point.amps.si(), 10.25, 1e-6));
    CHECK(close(point.heat.si(), 123, 1e-5));
    CHECK(close(point.neutral_shift.si(), 12, 1e-6));
    REQUIRE(point.highest_heat);
    const double alone = 120 / (10 + kByHand);  // amperes of the kettle without the lamp
    CHECK(close(point.highest_heat->value.si(), kByHand * alone * alone, 1e-5));
    REQUIRE(point.legs.size() == 2);
    CHECK(close(point.legs[0].volts.si(), 108, 1e-6));
    CHECK(close(point.legs[1].volts.si(), 132, 1e-6));
  }
  CHECK(seen);
  CHECK(depth.curve.front().added.si() == 0);
  CHECK(depth.curve.back().added.si() == kOpen);
}

TEST_CASE("a load past its limit with a sound neutral: 0 ohm") {
  std::string text(kTwoLoads);
  text.replace(text.find("max_volts = 132"), 15, "max_volts = 110");
  const DescribedAudit two = audit_of(text);
  const std::optional<NeutralLimit>& limit = two.open("service").limit;
  REQUIRE(limit);
  CHECK(limit->ohms.si() == 0);
  CHECK(limit->proven);
}

TEST_CASE("a load past its limit when sound hides none of the others") {
  std::string text(kTwoLoads);
  text += "[[load]]\nname = \"Old clock\"\nat = \"Right\"\nkind = \"plain\"\nohms = 1000000\n"
          "max_volts = 110\n";  // draws next to nothing
  const DescribedAudit three = audit_of(text);
  const OpenNeutral& service = three.open("service");
  REQUIRE(service.limit);
  CHECK(service.limit->ohms.si() == 0);
  CHECK(service.limit->load == three.load("Old clock"));
  REQUIRE(service.next_limit);
  CHECK(close(service.next_limit->ohms.si(), kByHand, 1e-4));  // the clock's 1e-6 S shifts it
  CHECK(service.next_limit->load == three.load("Lamp"));
  const NeutralDepth depth = neutral_in_depth(three.house, load_tables(), "service");
  REQUIRE(depth.next_high);
  CHECK(close(depth.next_high->ohms.si(), kByHand, 1e-4));
}

TEST_CASE("loads that withstand the volts of both legs have no limit") {
  std::string text(kTwoLoads);
  text.replace(text.find("max_volts = 132"), 15, "max_volts = 250");
  const DescribedAudit two = audit_of(text + "[[outlet]]\nname = \"Spare\"\non = \"Left\"\n");
  const Place service = two.open("service").place;
  const Tables tables = load_tables();
  const Wiring wiring = wire(two.house, *find_system(vocabulary(tables), two.house.supply.system));
  const Model model = build_model(two.house, wiring, tables);
  const std::vector<int> both{0, 1};
  CHECK(!first_root(model, service, both, two.load("Lamp"), 250, Goal::Highest));
  // Lowest: the kettle falls to 60 V at n = 60: 1/R = (120 (1/10 - 1/240) - 60 (1/10 + 1/240)) / 60.
  const auto low = first_root(model, service, both, two.load("Kettle"), 60, Goal::Lowest);
  REQUIRE(low);
  CHECK(close(*low, 60 / 5.25, 1e-6));
}

TEST_CASE("reactive loads: the root leaves exactly the limit across the load") {
  std::string text(kTwoLoads);
  text += "[[load]]\nname = \"Pump\"\nat = \"Left\"\nkind = \"motor\"\namps = 9\n"
          "power_factor = 0.6\n";
  const DescribedAudit house = audit_of(text);
  const std::optional<NeutralLimit>& limit = house.open("service").limit;
  REQUIRE(limit);
  const Tables tables = load_tables();
  const Wiring wiring =
      wire(house.house, *find_system(vocabulary(tables), house.house.supply.system));
  const Model model = build_model(house.house, wiring, tables);
  std::vector<bool> on(model.loads.size(), false);
  for (int load : limit->on) on[static_cast<std::size_t>(load)] = true;
  const Solution at_limit = solve_sparse(model, admittances(model, on),
                                         NeutralFault{house.open("service").place,
                                                      limit->ohms.si()});
  CHECK(close(std::abs(at_limit.load_volts[static_cast<std::size_t>(limit->load)]),
              limit->volts.si(), 1e-5));
}

}  // namespace
}  // namespace evenleg
