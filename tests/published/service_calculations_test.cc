// Published service calculations other than those of the code's own annex; the source stands above
// each. Where a line is by hand, the working is beside it.
#include <doctest/doctest.h>

#include "tests/balance/described_demand.h"
#include "tests/check.h"

namespace evenleg {
namespace {

// Source: a page of a licence course, NEC 2014, 220.82: 2800 ft2.
TEST_CASE("licence course: optional calculation, heat larger than cooling") {
  const DemandResult found = DescribedDemand(R"(
dwelling = {floor_area_ft2 = 2800}
load = [{name = "Range", at = "AB", kind = "range", watts = 14000},
        {name = "Water heater", at = "AB", kind = "water heater", watts = 3000},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
        {name = "Dishwasher", at = "A", kind = "dishwasher", watts = 1500},
        {name = "Heat", at = "AB", kind = "heating", demand = "central heating", watts = 15000},
        {name = "A/C", at = "AB", kind = "central air conditioner", amps = 29, volts = 240}]
)")
                                 .by("optional", 2014);
  CHECK(matches_printed(step_total(found, "appliances"), "36400"));
  CHECK(matches_printed(step_value(found, "general load"), "20560"));
  CHECK(matches_printed(step_sum(found, "heating or cooling"), "9750"));
  CHECK(matches_printed(found.load, "30310"));
  CHECK(matches_printed(whole_amps(found.amps), "126"));
}

// Source: an examination workbook of 2017, 220.82: a house of 50 by 42 ft, a 1/3 hp disposer of
// 7.2 A at 120 V, a 40 A heat pump with 10 kW that run together.
TEST_CASE("examination workbook: optional calculation, heat pump with supplement") {
  const DemandResult found = DescribedDemand(R"(
dwelling = {floor_area_ft2 = 2100}
load = [{name = "Range", at = "AB", kind = "range", watts = 13000},
        {name = "Water heater", at = "AB", kind = "water heater", watts = 4500},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
        {name = "Disposer", at = "B", kind = "disposer", amps = 7.2},
        {name = "Dishwasher", at = "A", kind = "dishwasher", watts = 1200},
        {name = "Heat pump", at = "AB", kind = "heat pump", amps = 40},
        {name = "Strip heat", at = "AB", demand = "heat pump supplement", watts = 10000}]
)")
                                 .by("optional", 2017);
  CHECK(matches_printed(step_total(found, "appliances"), "35364"));
  CHECK(matches_printed(step_value(found, "general load"), "20146"));
  CHECK(matches_printed(step_sum(found, "heating or cooling"), "16100"));
  CHECK(matches_printed(found.load, "36246"));
  CHECK(matches_printed(whole_amps(found.amps), "151"));
}

// Source: an electricians' forum, a copy of an example by part III. Its neutral is by hand:
// 5625 + 0.7 x 8000 + 0.7 x 5500 = 15 075 VA.
TEST_CASE("forum example: standard calculation") {
  const DemandResult found = DescribedDemand(R"(
dwelling = {floor_area_ft2 = 2000}
load = [{name = "Range", at = "AB", kind = "range", watts = 12000},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5500}]
)")
                                 .by("standard", 2017);
  CHECK(matches_printed(step_value(found, "lighting demand"), "5625"));
  CHECK(matches_printed(found.load, "19125"));
  CHECK(matches_printed(found.amps, "79.7"));
  CHECK(matches_printed(*found.neutral_va, "15075"));
  CHECK(matches_printed(*found.neutral_amps, "62.8"));
}

// Source: IAEI Magazine, May 2013, on the Canadian code of 2012: 269 m2. Its items add up to
// 36 575 W, 152.4 A at 240 V; its text says 173.1 A, which does not follow from them.
TEST_CASE("IAEI Magazine: rule 8-200 of the Canadian code") {
  const DemandResult found = DescribedDemand(R"(
dwelling = {floor_area_m2 = 269}
load = [{name = "A/C", at = "AB", kind = "central air conditioner", va = 6000},
        {name = "Range", at = "AB", kind = "range", watts = 11000},
        {name = "Hot tub", at = "AB", kind = "heating", demand = "pool or spa", watts = 8000},
        {name = "Car charger", at = "AB", kind = "ev charger", watts = 7200},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
        {name = "Water heater", at = "AB", kind = "water heater", watts = 4500}]
)")
                                 .by("canadian", 2012);
  CHECK(matches_printed(step_sum(found, "basic load"), "7000"));
  CHECK(matches_printed(step_value(found, "cooling"), "6000"));
  CHECK(matches_printed(step_value(found, "range"), "6000"));
  CHECK(matches_printed(step_value(found, "full loads"), "8000"));
  CHECK(matches_printed(step_value(found, "EV charger"), "7200"));
  CHECK(matches_printed(step_sum(found, "other loads"), "2375"));  // 25 % of 9500
  CHECK(matches_printed(found.load, "36575"));
  CHECK(matches_printed(found.amps, "152.4"));
  CHECK(found.least_service_amps == 100);
  CHECK_FALSE(found.neutral_va);
}

}  // namespace
}  // namespace evenleg
