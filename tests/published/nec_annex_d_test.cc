// Source: NFPA 70, National Electrical Code, 2005, Informative Annex D, examples D1(a) to D2(c),
// read in a pocket reprint; D1(a) also in the text of 2017. Volt-amperes and whole amperes as
// printed. The examples as houses: nameplates, and the leg that each load is on.
//
// The figures under 2026 are printed nowhere: they are the same houses at 2 VA per square foot and
// 8 kVA at 100 %, by hand beside each, so that a change of the data is noticed.
#include <doctest/doctest.h>

#include "tests/balance/described_demand.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-6;

const char* const kD1a = R"(
dwelling = {floor_area_ft2 = 1500}
load = [{name = "Range", at = "AB", kind = "range", watts = 12000},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5500}]
)";

TEST_CASE("NEC Annex D, D1(a): standard calculation") {
  for (const int edition : {2005, 2017}) {
    CAPTURE(edition);
    const DemandResult found = DescribedDemand(kD1a).by("standard", edition);
    CHECK(matches_printed(step_value(found, "general lighting"), "4500"));
    CHECK(matches_printed(step_value(found, "small appliance"), "3000"));
    CHECK(matches_printed(step_value(found, "laundry"), "1500"));
    CHECK(matches_printed(step_total(found, "laundry"), "9000"));
    CHECK(matches_printed(step_value(found, "lighting demand"), "5100"));
    CHECK(matches_printed(step_value(found, "cooking"), "8000"));
    CHECK(matches_printed(step_value(found, "dryer"), "5500"));
    CHECK(matches_printed(found.load, "18600"));
    CHECK(matches_printed(whole_amps(found.amps), "78"));
    CHECK(found.least_service_amps == 100);
    CHECK(found.next_rating_amps == 100.0);
    CHECK(matches_printed(step_called(found.neutral_steps, "Lighting"), "5100"));
    CHECK(matches_printed(step_called(found.neutral_steps, "Cooking"), "5600"));
    CHECK(matches_printed(step_called(found.neutral_steps, "Dryers"), "3850"));
    CHECK(matches_printed(*found.neutral_va, "14550"));
    CHECK(matches_printed(whole_amps(*found.neutral_amps), "61"));
  }
}

// D1(b) adds amperes by conductor. Of the neutral's 25 % of the largest motor the reprint of 2005
// has 2, which makes 83; the code of 2002 is reported to have 3, a quarter of the 12 A air
// conditioner, which makes 84. The rule gives 3.
TEST_CASE("NEC Annex D, D1(b): the same dwelling with loads on one leg") {
  const std::string_view loads = R"(
dwelling = {floor_area_ft2 = 1500}
load = [{name = "Range", at = "AB", kind = "range", watts = 12000},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5500},
        {name = "Large A/C", at = "AB", kind = "air conditioner", amps = 6, volts = 230},
        {name = "Small A/C", at = "A", kind = "air conditioner", amps = 12, volts = 115},
        {name = "Disposer", at = "B", kind = "disposer", amps = 8, volts = 115},
        {name = "Dishwasher", at = "B", kind = "dishwasher", amps = 10}]
)";
  const DemandResult found = DescribedDemand(loads).by("standard", 2005);
  struct Row {
    const char* start;
    const char* a;
    const char* neutral;
    const char* b;
  };
  for (const Row& row : {Row{"Lighting", "78", "61", "78"}, Row{"Large A/C", "6", "0", "6"},
                         Row{"Small A/C and Dishwasher", "12", "12", "10"},
                         Row{"Disposer", "0", "8", "8"}, Row{"25 %", "3", "3", "2"}}) {
    CAPTURE(row.start);
    const DemandByLine line = line_called(found, row.start);
    CHECK(matches_printed(line.legs[0], row.a));
    CHECK(matches_printed(line.neutral, row.neutral));
    CHECK(matches_printed(line.legs[1], row.b));
  }
  double a = 0, b = 0;
  for (const DemandByLine& line : found.by_line) {
    a += line.legs[0];
    b += line.legs[1];
  }
  CHECK(matches_printed(whole_amps(a), "99"));
  CHECK(matches_printed(whole_amps(b), "104"));
  CHECK(matches_printed(whole_amps(found.amps), "104"));
  CHECK(matches_printed(whole_amps(*found.neutral_amps), "84"));      // as in 2002
  CHECK(matches_printed(whole_amps(*found.neutral_amps - 1), "83"));  // with the 2 of 2005
  CHECK(found.next_rating_amps == 110.0);
}

const char* const kD2a = R"(
dwelling = {floor_area_ft2 = 1500}
load = [{name = "Range", at = "AB", kind = "range", watts = 12000},
        {name = "Water heater", at = "AB", kind = "water heater", watts = 2500},
        {name = "Dishwasher", at = "A", kind = "dishwasher", watts = 1200},
        {name = "Room 1", at = "AB", kind = "baseboard heater", watts = 1800},
        {name = "Room 2", at = "AB", kind = "baseboard heater", watts = 1800},
        {name = "Room 3", at = "AB", kind = "baseboard heater", watts = 1800},
        {name = "Room 4", at = "AB", kind = "baseboard heater", watts = 1800},
        {name = "Room 5", at = "AB", kind = "baseboard heater", watts = 1800},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
        {name = "Room A/C", at = "AB", kind = "air conditioner", va = 1380, volts = 230}]
)";

TEST_CASE("NEC Annex D, D2(a): optional calculation, heat larger than cooling") {
  const DemandResult found = DescribedDemand(kD2a).by("optional", 2005);
  CHECK(matches_printed(step_value(found, "general lighting"), "4500"));
  CHECK(matches_printed(step_value(found, "small appliance"), "3000"));
  CHECK(matches_printed(step_value(found, "laundry"), "1500"));
  CHECK(matches_printed(step_called(found.steps, "Range"), "12000"));
  CHECK(matches_printed(step_called(found.steps, "Water heater"), "2500"));
  CHECK(matches_printed(step_called(found.steps, "Dishwasher"), "1200"));
  CHECK(matches_printed(step_called(found.steps, "Dryer"), "5000"));
  CHECK(matches_printed(step_total(found, "appliances"), "29700"));
  CHECK(matches_printed(step_value(found, "general load"), "17880"));
  CHECK(matches_printed(step_sum(found, "heating or cooling"), "3600"));
  CHECK(matches_printed(found.load, "21480"));
  CHECK(matches_printed(whole_amps(found.amps), "90"));
  CHECK(found.next_rating_amps == 100.0);
  CHECK(matches_printed(step_called(found.neutral_steps, "Lighting"), "5100"));
  CHECK(matches_printed(step_called(found.neutral_steps, "Cooking"), "5600"));
  CHECK(matches_printed(step_called(found.neutral_steps, "Dryers"), "3500"));
  CHECK(matches_printed(step_called(found.neutral_steps, "Dishwasher"), "1200"));
  CHECK(matches_printed(*found.neutral_va, "15400"));
  CHECK(matches_printed(whole_amps(*found.neutral_amps), "64"));
}

// By hand: 3000 + 3000 + 1500 + 20 700 = 28 200; 8000 + 0.4 x 20 200 = 16 080; + 3600 = 19 680.
TEST_CASE("D2(a) by the figures of 2026, by hand") {
  const DemandResult found = DescribedDemand(kD2a).by("optional", 2026);
  CHECK(close(found.load, 19680, kExact));
  CHECK(matches_printed(found.amps, "82.0"));
}

const char* const kD2b = R"(
dwelling = {floor_area_ft2 = 1500}
load = [{name = "Oven 1", at = "AB", kind = "oven", watts = 4000},
        {name = "Oven 2", at = "AB", kind = "oven", watts = 4000},
        {name = "Cooktop", at = "AB", kind = "hot plate", watts = 5100},
        {name = "Water heater", at = "AB", kind = "water heater", watts = 4500},
        {name = "Dishwasher", at = "A", kind = "dishwasher", watts = 1200},
        {name = "Washer-dryer", at = "AB", kind = "clothes dryer", watts = 5000},
        {name = "A/C 1", at = "AB", kind = "air conditioner", amps = 7, volts = 230},
        {name = "A/C 2", at = "AB", kind = "air conditioner", amps = 7, volts = 230},
        {name = "A/C 3", at = "AB", kind = "air conditioner", amps = 7, volts = 230},
        {name = "A/C 4", at = "AB", kind = "air conditioner", amps = 7, volts = 230},
        {name = "A/C 5", at = "AB", kind = "air conditioner", amps = 7, volts = 230},
        {name = "A/C 6", at = "AB", kind = "air conditioner", amps = 7, volts = 230},
        {name = "Bath heater", at = "AB", kind = "baseboard heater", watts = 1500}]
)";

// The example rounds 13.1 kVA x 55 % to 7.2 kVA before it takes 70 %: 5040 VA, where 7205 x 70 % is
// 5043.5. The difference of 3.5 VA is held here; both make 62 A.
TEST_CASE("NEC Annex D, D2(b): optional calculation, cooling larger than heat") {
  const DemandResult found = DescribedDemand(kD2b).by("optional", 2005);
  CHECK(matches_printed(step_total(found, "laundry"), "9000"));
  CHECK(matches_printed(step_called(found.steps, "Oven 1") + step_called(found.steps, "Oven 2"),
                        "8000"));
  CHECK(matches_printed(step_called(found.steps, "Cooktop"), "5100"));
  CHECK(matches_printed(step_called(found.steps, "Water heater"), "4500"));
  CHECK(matches_printed(step_called(found.steps, "Dishwasher"), "1200"));
  CHECK(matches_printed(step_called(found.steps, "Washer-dryer"), "5000"));
  CHECK(matches_printed(step_total(found, "appliances"), "32800"));
  CHECK(matches_printed(step_value(found, "general load"), "19120"));
  CHECK(matches_printed(step_sum(found, "heating or cooling"), "10080"));
  CHECK(matches_printed(found.load, "29200"));
  CHECK(matches_printed(whole_amps(found.amps), "122"));
  CHECK(found.next_rating_amps == 125.0);  // a study page on 2017 names this size
  const double cooking = step_called(found.neutral_steps, "Cooking");
  CHECK(matches_printed(cooking / 0.7 / 1000, "7.2"));
  CHECK(close(cooking - 5040, 3.5, kExact));
  CHECK(matches_printed(step_called(found.neutral_steps, "Dryers"), "3500"));
  CHECK(matches_printed(step_called(found.neutral_steps, "Dishwasher"), "1200"));
  CHECK(close(*found.neutral_va - 14840, 3.5, kExact));
  CHECK(matches_printed(whole_amps(*found.neutral_amps), "62"));
}

// By hand: 3000 + 3000 + 1500 + 23 800 = 31 300; 8000 + 0.4 x 23 300 = 17 320; + 10 080 = 27 400.
TEST_CASE("D2(b) by the figures of 2026, by hand") {
  const DemandResult found = DescribedDemand(kD2b).by("optional", 2026);
  CHECK(close(found.load, 27400, kExact));
  CHECK(matches_printed(found.amps, "114.2"));
}

const std::string_view kD2c = R"(
dwelling = {floor_area_ft2 = 2000}
load = [{name = "Range", at = "AB", kind = "range", watts = 12000},
        {name = "Water heater", at = "AB", kind = "water heater", watts = 4500},
        {name = "Dishwasher", at = "A", kind = "dishwasher", watts = 1200},
        {name = "Dryer", at = "AB", kind = "clothes dryer", watts = 5000},
        {name = "Heat pump", at = "AB", kind = "heat pump", amps = 24@},
        {name = "Backup", at = "AB", demand = "heat pump supplement", watts = 15000@}]
)";

// With a further key on the heat pump and on its supplement.
std::string d2c(std::string_view key) {
  std::string text;
  for (const char c : kD2c) {
    c == '@' ? text.append(key) : text.append(1, c);
  }
  return text;
}

// The neutral is not in the example; by hand, 10 500 VA of lighting: 3000 + 0.35 x 7500 = 5625;
// + 0.7 x 8000 + 0.7 x 5000 + 1200 = 15 925 VA.
TEST_CASE("NEC Annex D, D2(c): optional calculation, heat pump with supplement") {
  const DemandResult found = DescribedDemand(d2c("")).by("optional", 2005);
  CHECK(matches_printed(step_value(found, "general lighting"), "6000"));
  CHECK(matches_printed(step_total(found, "appliances"), "33200"));
  CHECK(matches_printed(step_value(found, "general load"), "19280"));
  CHECK(matches_printed(step_called(found.steps, "Heat pump"), "5760"));
  CHECK(matches_printed(step_called(found.steps, "Backup"), "9750"));
  CHECK(matches_printed(step_sum(found, "heating or cooling"), "15510"));
  CHECK(matches_printed(found.load, "34790"));
  CHECK(matches_printed(whole_amps(found.amps), "145"));
  CHECK(found.next_rating_amps == 150.0);
  CHECK(close(*found.neutral_va, 15925, kExact));
  CHECK(matches_printed(*found.neutral_amps, "66.4"));
}

// The footnote of the example: without the compressor, by hand 19 280 + 9750 = 29 030 VA, 121 A.
TEST_CASE("NEC Annex D, D2(c): compressor interlocked with the supplement") {
  const DescribedDemand house(d2c(", noncoincident = \"compressor or supplement\""));
  const DemandResult found = house.by("optional", 2005);
  CHECK(close(found.load, 29030, kExact));
  CHECK(matches_printed(whole_amps(found.amps), "121"));
}

// By hand: 4000 + 3000 + 1500 + 22 700 = 31 200; 8000 + 0.4 x 23 200 = 17 280; + 15 510 = 32 790.
TEST_CASE("D2(c) by the figures of 2026, by hand") {
  const DemandResult found = DescribedDemand(d2c("")).by("optional", 2026);
  CHECK(close(found.load, 32790, kExact));
  CHECK(matches_printed(found.amps, "136.6"));
}

}  // namespace
}  // namespace evenleg
