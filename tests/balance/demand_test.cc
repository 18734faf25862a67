// Rules of the service calculations that no published example shows, by hand beside each check, and
// what is refused.
#include "evenleg/balance/demand.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "evenleg/base/error.h"
#include "tests/balance/described_demand.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-6;

std::string dwelling(const std::string& keys, const std::string& loads) {
  return "\ndwelling = {" + keys + "}\nload = [" + loads + "]\n";
}

std::string house_of(const std::string& loads) { return dwelling("floor_area_ft2 = 1500", loads); }

std::string fault_of(const DescribedDemand& house, const DemandOptions& options) {
  try {
    (void)house.by(options);
  } catch (const Error& error) {
    return line(error.faults().front());
  }
  return "nothing was refused";
}

const DemandItem& item_called(const DemandResult& result, std::string_view name) {
  const auto found = std::find_if(result.items.begin(), result.items.end(),
                                  [&](const DemandItem& item) { return item.name == name; });
  REQUIRE(found != result.items.end());
  return *found;
}

const char* const kExisting = R"(
  {name = "Range", at = "AB", kind = "range", watts = 12000},
  {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
  {name = "Water heater", at = "AB", kind = "water heater", watts = 4500},
  {name = "A/C", at = "AB", kind = "central air conditioner", amps = 24})";

// 9000 + 12 000 + 5000 + 4500 = 30 500 VA and 24 A x 240 V = 5760 VA. Nothing new: 8000 +
// 0.4 x 28 260 = 19 304; new cooling: 8000 + 0.4 x 22 500 = 17 000, + 5760 = 22 760.
TEST_CASE("demand: an existing dwelling, without and with new heating or cooling") {
  CHECK(close(DescribedDemand(house_of(kExisting)).by("existing", 2017).load, 19304, kExact));
  const DescribedDemand renewed(dwelling("floor_area_ft2 = 1500, new_hvac = true", kExisting));
  CHECK(close(renewed.by("existing", 2017).load, 22760, kExact));
}

// The same, the cooling added: 17 000 + 5760.
TEST_CASE("demand: added cooling makes it a dwelling with new cooling") {
  const DescribedDemand house(house_of(R"(
  {name = "Range", at = "AB", kind = "range", watts = 12000},
  {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
  {name = "Water heater", at = "AB", kind = "water heater", watts = 4500})"));
  const DemandResult found = house.by({"existing", 2017, {{"cooling", "cooling", 5760}}});
  CHECK(close(found.load, 22760, kExact));
}

// 1.25 x 61.5 A x 240 V = 18 450 VA, + 9600 = 28 050 VA, 116.875 A.
TEST_CASE("demand: an existing dwelling from its recorded demand") {
  const DescribedDemand house(
      dwelling("recorded_demand_amps = 61.5, recorded_period = \"30 days\"", kExisting));
  const DemandResult found = house.by({"recorded", 2020, {{"EV charger", "EV charger", 9600}}});
  CHECK(close(step_value(found, "recorded demand"), 18450, kExact));
  CHECK(close(found.load, 28050, kExact));
  CHECK(whole_amps(found.amps) == 117);
  CHECK_FALSE(found.neutral_amps);
  CHECK(item_called(found, "Range").left_out == "in the recorded demand");
}

// 18 600 VA at 208 V; two legs of a wye: the neutral of cooking and dryers is not reduced.
TEST_CASE("demand: an apartment on two legs of a wye") {
  std::string shared(kDwelling);
  const std::string_view split = "120/240 split-phase";
  shared.replace(shared.find(split), split.size(), "120/208 two-leg");
  const DescribedDemand house(house_of(R"(
  {name = "Range", at = "AB", kind = "range", watts = 12000},
  {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5500})"),
                              shared);
  const DemandResult found = house.by("standard", 2023);
  CHECK(found.line_volts == 208);
  CHECK(close(found.amps, 18600.0 / 208, kExact));
  CHECK(close(*found.neutral_amps, 18600.0 / 208, kExact));
}

// 5100 + 60 000 = 65 100 VA, 271.25 A: 200 + 0.7 x 71.25 = 249.875 A.
TEST_CASE("demand: of a neutral the part above 200 A is reduced") {
  const DescribedDemand house(
      house_of(R"({name = "Kiln", at = "A", demand = "fastened appliance", watts = 60000})"));
  CHECK(close(*house.by("optional", 2023).neutral_amps, 249.875, kExact));
}

TEST_CASE("demand: an EV charger counts at least 7200 VA from 2023") {
  const DescribedDemand house(
      house_of(R"({name = "Charger", at = "AB", kind = "ev charger", watts = 3600})"));
  CHECK(step_value(house.by("standard", 2020), "EV charger") == 3600);
  CHECK(step_value(house.by("standard", 2023), "EV charger") == 7200);
  CHECK(step_value(house.by("optional", 2023), "EV charger") == 7200);
}

// 1440 W at 120 V are 12 A on one leg; the other 5760 VA of the least 7200 are 24 A on each.
TEST_CASE("demand: the least load of an EV charger on one leg is not all on that leg") {
  const DescribedDemand house(
      house_of(R"({name = "Charger", at = "A", kind = "ev charger", watts = 1440})"));
  const DemandResult found = house.by("standard", 2023);
  CHECK(close(line_called(found, "Charger, up to").legs[0], 24, kExact));
  CHECK(close(line_called(found, "Charger, up to").legs[1], 24, kExact));
  double a = 0, b = 0;
  for (const DemandByLine& row : found.by_line) {
    a += row.legs[0];
    b += row.legs[1];
  }
  CHECK(close(a, 5100.0 / 240 + 36, kExact));
  CHECK(close(b, 5100.0 / 240 + 24, kExact));
  CHECK(close(found.amps, a, kExact));
}

// Three of 1000 W and one of 300 W: four until 2017, 75 % of 3300; from 2020 only three, 3300.
TEST_CASE("demand: four fastened appliances, from 2020 only those of 500 W or more") {
  const DescribedDemand house(house_of(R"(
  {name = "One", at = "A", demand = "fastened appliance", watts = 1000},
  {name = "Two", at = "A", demand = "fastened appliance", watts = 1000},
  {name = "Three", at = "A", demand = "fastened appliance", watts = 1000},
  {name = "Four", at = "A", demand = "fastened appliance", watts = 300})"));
  CHECK(close(step_sum(house.by("standard", 2017), "fastened appliances"), 2475, kExact));
  CHECK(close(step_sum(house.by("standard", 2020), "fastened appliances"), 3300, kExact));
}

// 6 A of 240 V and 12 A of 120 V are 1440 VA each; a quarter is 360 VA.
TEST_CASE("demand: a motor that is left out is not the largest") {
  const DescribedDemand house(house_of(R"(
  {name = "Pump", at = "AB", kind = "well pump", amps = 6},
  {name = "A/C", at = "AB", kind = "central air conditioner", amps = 20},
  {name = "Furnace", at = "AB", demand = "central heating", watts = 9000})"));
  const DemandResult found = house.by("standard", 2023);
  CHECK(close(step_value(found, "motors"), 360, kExact));
  CHECK(item_called(found, "A/C").left_out == "heating is larger");
}

TEST_CASE("demand: parts of one appliance count together, and of excluding loads the larger") {
  const DescribedDemand house(house_of(R"(
  {name = "Elements", at = "AB", appliance = "Range", kind = "hot plate", watts = 7000},
  {name = "Oven", at = "AB", appliance = "Range", kind = "oven", demand = "range", watts = 4960},
  {name = "Lamp", at = "A", appliance = "Range", watts = 40},
  {name = "Kiln", at = "AB", watts = 3000, noncoincident = "kiln or tub"},
  {name = "Tub", at = "AB", demand = "pool or spa", watts = 5000, noncoincident = "kiln or tub"},
  {name = "Radio", at = "A", watts = 20})"));
  const DemandResult found = house.by("standard", 2023);
  CHECK(item_called(found, "Range").va == 12000);
  CHECK(item_called(found, "Range").category == "range");
  CHECK(step_value(found, "cooking") == 8000);
  CHECK(item_called(found, "Kiln").category == "fastened appliance");  // between the legs
  CHECK_FALSE(item_called(found, "Kiln").counted);
  CHECK(item_called(found, "Tub").counted);
  CHECK(item_called(found, "Radio").category == "general");
}

// 500 W at a power factor of 0.8 are 625 VA; a compressor's watts over its kind's 0.939; 240 V
// squared over 57.6 ohms, 1000 VA; 2 A measured at 120 V.
TEST_CASE("demand: nameplates as volt-amperes") {
  const DescribedDemand house(house_of(R"(
  {name = "Fan", at = "A", demand = "motor", watts = 500, power_factor = 0.8},
  {name = "A/C", at = "AB", kind = "central air conditioner", watts = 3000},
  {name = "Element", at = "AB", ohms = 57.6},
  {name = "Hood", at = "A", kind = "range hood", measured_amps = 2},
  {name = "Heater", at = "AB", kind = "baseboard heater", watts = 1500})"));
  const DemandResult found = house.by("optional", 2023);
  CHECK(close(item_called(found, "Fan").va, 625, kExact));
  CHECK(close(item_called(found, "A/C").va, 3000 / 0.939, kExact));
  CHECK(close(item_called(found, "Element").va, 1000, kExact));
  CHECK(close(item_called(found, "Hood").va, 240, kExact));
  CHECK(item_called(found, "Heater").va == 1500);
}

// 33 VA for each square metre, as the code prints it: 140 x 33 = 4620.
TEST_CASE("demand: a floor area in square metres") {
  const DescribedDemand house(dwelling("floor_area_m2 = 140, small_appliance_circuits = 3",
                                       R"({name = "Radio", at = "A", watts = 20})"));
  const DemandResult found = house.by("standard", 2023);
  CHECK(close(step_value(found, "general lighting"), 4620, kExact));
  CHECK(step_value(found, "small appliance") == 4500);
}

// No range: 6000 W in full and a quarter of the other 3500 W; five rooms of 3 kW: 10 000 +
// 0.75 x 5000; 70 m2: 60 A. What is interlocked: the larger.
TEST_CASE("demand: the Canadian rule without a range, with heated rooms, and interlocked") {
  const DemandResult found = DescribedDemand(dwelling("floor_area_m2 = 70", R"(
  {name = "Water heater", at = "AB", kind = "water heater", watts = 4500},
  {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
  {name = "Room 1", at = "AB", kind = "baseboard heater", watts = 3000},
  {name = "Room 2", at = "AB", kind = "baseboard heater", watts = 3000},
  {name = "Room 3", at = "AB", kind = "baseboard heater", watts = 3000},
  {name = "Room 4", at = "AB", kind = "baseboard heater", watts = 3000},
  {name = "Room 5", at = "AB", kind = "baseboard heater", watts = 3000},
  {name = "A/C", at = "AB", demand = "cooling", watts = 2000})"))
                                 .by("canadian", 2024);
  CHECK(close(step_sum(found, "other loads"), 6875, kExact));
  CHECK(close(step_sum(found, "space heating"), 13750, kExact));
  CHECK(close(found.load, 5000 + 6875 + 13750 + 2000, kExact));
  CHECK(found.least_service_amps == 60);
  CHECK(found.compared_amps == found.amps);
  const DemandResult either = DescribedDemand(dwelling("floor_area_m2 = 70", R"(
  {name = "Furnace", at = "AB", demand = "central heating", watts = 9000, noncoincident = "h"},
  {name = "A/C", at = "AB", demand = "cooling", watts = 2000, noncoincident = "h"})"))
                                  .by("canadian", 2024);
  CHECK(close(either.load, 14000, kExact));
}

TEST_CASE("demand: a described service is the limit") {
  const std::string service =
      "\nservice = {breaker_a = 100, conductor = \"2/0 Al\", neutral = \"2 Al\"}\n";
  const DemandResult found = DescribedDemand(service + house_of(kExisting)).by("optional", 2023);
  // 10 000 + 0.4 x 20 500 + 5760 = 23 960 VA, 99.8 A.
  CHECK(close(found.load, 23960, kExact));
  CHECK(found.compared_amps == 100);
  REQUIRE(found.spare_amps);
  CHECK(*found.spare_amps == 0);
  REQUIRE(found.neutral_limits.size() == 1);
  CHECK(found.neutral_limits.front().amps == 90);  // NEC table 310.16, 2 AWG aluminum, 75 C
}

TEST_CASE("demand: what is refused, each with what to do") {
  const DescribedDemand bare("\nload = [{name = \"Radio\", at = \"A\", watts = 20}]\n");
  CHECK(fault_of(bare, {"optional", {}, {}})
            .starts_with("[dwelling]: the method goes by the floor area, and none is described; "
                         "add floor_area_ft2"));
  CHECK(fault_of(bare, {"recorded", {}, {}}) ==
        "[dwelling]: the method goes by the recorded demand, and none is described; add "
        "recorded_demand_amps and recorded_period");
  CHECK(fault_of(bare, {"neutral", {}, {}}) ==
        "--method: \"neutral\" is no method; name one of: standard, optional, existing, recorded, "
        "canadian");
  CHECK(fault_of(bare, {"existing", 2026, {}}) ==
        "--edition: the method \"existing\" has no edition of 2026; name one of: 2005, 2008, 2011, "
        "2014, 2017, 2020, 2023");
}

TEST_CASE("demand: every method gives an answer in every edition") {
  const DescribedDemand house(dwelling(
      "floor_area_ft2 = 1500, recorded_demand_amps = 60, recorded_period = \"1 year\"", kExisting));
  int answers = 0;
  for (const std::string& name : demand_methods(house.tables())) {
    for (const int edition : find_demand_method(house.tables(), name)->editions) {
      CAPTURE(name);
      CAPTURE(edition);
      CHECK(house.by(name, edition).load > 5000);
      ++answers;
    }
  }
  CHECK(answers == 8 + 8 + 7 + 7 + 5);
}

}  // namespace
}  // namespace evenleg
