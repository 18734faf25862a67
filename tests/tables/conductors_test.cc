// The conductor table against its sources and the rules behind them.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

const Conductor& named(const Tables& tables, const std::string& name) {
  const Conductor* conductor = find_conductor(tables, name);
  REQUIRE_MESSAGE(conductor != nullptr, name);
  return *conductor;
}

constexpr const char* kAwgSizes[] = {"14",  "12",  "10",  "8",   "6",   "4",   "3",   "2",   "1",
                                     "1/0", "2/0", "3/0", "4/0", "250", "300", "350", "400", "500"};

// Area of an AWG size: d = 0.005 in * 92^((36 - n) / 39), 1/0 being n = 0, 2/0 n = -1 and so on
// (ASTM B258); circular mils are the square of the diameter in mils. Larger sizes name their kcmil.
double circular_mils(const std::string& size) {
  constexpr double kSmallestKcmil = 250;
  const double number = std::stod(size);
  if (size.find('/') == std::string::npos && number >= kSmallestKcmil) return 1000 * number;
  const double n = size.find('/') == std::string::npos ? number : 1 - number;
  return std::pow(5 * std::pow(92, (36 - n) / 39), 2);
}

// R75 = k * 1000 ft * rho20 * (1 + 55 a20) / cmil. rho20: 10.371 ohm cmil/ft, 100 % IACS copper
// (ASTM B233), and 10.371 / 0.61 for aluminium of 61 % IACS; a20: 0.00393 and 0.00403; k: 1.02 if
// stranded.
TEST_CASE("conductors: table 8 follows from resistivity and the gauge to 0.5 %") {
  const Tables tables = load_tables();
  for (const std::string size : kAwgSizes) {
    const bool solid = size == "14" || size == "12" || size == "10";
    const double per_cmil = (solid ? 1 : 1.02) * 1000 / circular_mils(size);
    const double copper = per_cmil * 10.371 * (1 + 55 * 0.00393);
    const double aluminium = per_cmil * 10.371 / 0.61 * (1 + 55 * 0.00403);
    const double copper_per_kft = named(tables, size + " Cu").ohms_per_metre * 304.8;
    const double aluminium_per_kft = named(tables, size + " Al").ohms_per_metre * 304.8;
    CAPTURE(size);
    CHECK(std::abs(copper_per_kft / copper - 1) <= 0.005);
    CHECK(std::abs(aluminium_per_kft / aluminium - 1) <= 0.005);
  }
}

// NEC chapter 9, table 8, ohm/kft at 75 C, divided by hand by 0.3048: 1.93 / 0.3048 = 6.332 ohm/km.
TEST_CASE("conductors: resistance per metre, from feet") {
  struct Row {
    const char* name;
    double ohms_per_km;
    double half_a_digit;
  };
  const Row kRows[] = {
      {"14 Cu", 10.07, 0.005},   {"12 Cu", 6.332, 0.0005},   {"10 Cu", 3.970, 0.0005},
      {"8 Cu", 2.552, 0.0005},   {"6 Cu", 1.611, 0.0005},    {"4/0 Cu", 0.1995, 0.00005},
      {"12 Al", 10.43, 0.005},   {"2/0 Al", 0.522, 0.0005},  {"4/0 Al", 0.328, 0.0005},
      {"250 Al", 0.278, 0.0005}, {"500 Cu", 0.0846, 0.00005}};
  const Tables tables = load_tables();
  for (const Row& row : kRows) {
    CAPTURE(row.name);
    CHECK(std::abs(named(tables, row.name).ohms_per_metre * 1000 - row.ohms_per_km) <=
          row.half_a_digit);
  }
}

// NEC chapter 9, table 9: effective Z at 0.85 power factor, copper in PVC, is printed beside the
// resistance that it comes from: Z = R cos + X sin. Tolerance: half a digit of Z, and of R times
// 0.85.
TEST_CASE("conductors: the reactances of table 9 reproduce its effective impedance") {
  struct Row {
    const char* name;
    double resistance, resistance_half_digit, z, z_half_digit;
  };
  const Row kRows[] = {{"14 Cu", 3.1, 0.05, 2.7, 0.05},
                       {"10 Cu", 1.2, 0.05, 1.1, 0.05},
                       {"6 Cu", 0.49, 0.005, 0.44, 0.005},
                       {"4/0 Cu", 0.062, 0.0005, 0.074, 0.0005},
                       {"500 Cu", 0.027, 0.0005, 0.043, 0.0005}};
  const double sine = std::sqrt(1 - 0.85 * 0.85);
  const Tables tables = load_tables();
  for (const Row& row : kRows) {
    CAPTURE(row.name);
    const double reactance = named(tables, row.name).reactance_ohms_per_metre * 304.8;
    CHECK(std::abs(row.resistance * 0.85 + reactance * sine - row.z) <=
          row.z_half_digit + 0.85 * row.resistance_half_digit);
  }
}

// IEC 60228 tables A.1 and A.2 at 20 C times 1 + 50 * 0.00393 = 1.1965 (copper) and
// 1 + 50 * 0.00403 = 1.2015 (aluminium), by hand.
TEST_CASE("conductors: metric sizes at 70 C, without reactance") {
  struct Row {
    const char* name;
    double ohms_per_km;
    double half_a_digit;
  };
  const Row kRows[] = {
      {"1.5 mm2 Cu", 14.48, 0.005}, {"2.5 mm2 Cu", 8.87, 0.005},  {"4 mm2 Cu", 5.52, 0.005},
      {"6 mm2 Cu", 3.69, 0.005},    {"10 mm2 Cu", 2.19, 0.005},   {"16 mm2 Cu", 1.38, 0.005},
      {"25 mm2 Cu", 0.870, 0.0005}, {"35 mm2 Cu", 0.627, 0.0005}, {"50 mm2 Cu", 0.463, 0.0005},
      {"10 mm2 Al", 3.70, 0.005},   {"16 mm2 Al", 2.29, 0.005},   {"25 mm2 Al", 1.44, 0.005},
      {"35 mm2 Al", 1.043, 0.0005}, {"50 mm2 Al", 0.770, 0.0005},
  };
  const Tables tables = load_tables();
  for (const Row& row : kRows) {
    CAPTURE(row.name);
    const Conductor& conductor = named(tables, row.name);
    CHECK(std::abs(conductor.ohms_per_metre * 1000 - row.ohms_per_km) <= row.half_a_digit);
    CHECK(conductor.reactance_ohms_per_metre == 0);
    CHECK(conductor.ampacity.has_value() == (std::string(row.name).back() == 'u'));
    CHECK_FALSE(conductor.dwelling_service_limit.has_value());
  }
}

// NEC 310.12(A) and (B): 83 % of the rating. The printed table is the largest rating of its list
// that the 75 C ampacity reaches at 83 %, for each size and both metals.
TEST_CASE("conductors: table 310.12 is the 83 % rule") {
  constexpr double kRatings[] = {100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400};
  const Tables tables = load_tables();
  for (const std::string size : kAwgSizes) {
    for (const char* metal : {" Cu", " Al"}) {
      const Conductor& conductor = named(tables, size + metal);
      std::optional<double> largest;
      for (double rating : kRatings) {
        if (conductor.ampacity.value_or(0) >= 0.83 * rating) largest = rating;
      }
      CAPTURE(conductor.name);
      CHECK(conductor.dwelling_service_limit == largest);
    }
  }
}

// NEC table 310.16 at 75 C and 240.4(D).
TEST_CASE("conductors: a branch circuit has the lesser of ampacity and small-conductor limit") {
  struct Row {
    const char* name;
    double amps;
  };
  const Row kRows[] = {{"14 Cu", 15}, {"12 Cu", 20}, {"10 Cu", 30}, {"8 Cu", 50},
                       {"12 Al", 15}, {"10 Al", 25}, {"8 Al", 40},  {"4/0 Al", 180}};
  const Tables tables = load_tables();
  for (const Row& row : kRows) {
    CAPTURE(row.name);
    CHECK(branch_ampacity(named(tables, row.name)) == row.amps);
  }
  CHECK_FALSE(branch_ampacity(named(tables, "14 Al")).has_value());
  // IEC 60364-5-52 table B.52.4, from memory.
  CHECK(branch_ampacity(named(tables, "2.5 mm2 Cu")) == 27);
}

TEST_CASE("conductors: ampacity rises with size and with insulation temperature") {
  const Tables tables = load_tables();
  for (const std::string metal : {" Cu", " Al"}) {
    double last = 0;
    for (const std::string size : kAwgSizes) {
      const Conductor& conductor = named(tables, size + metal);
      if (conductor.name == "14 Al") continue;  // the table starts at 12 AWG for aluminium
      CAPTURE(conductor.name);
      REQUIRE(conductor.ampacity.has_value());
      CHECK(*conductor.ampacity > last);
      CHECK(conductor.ampacity_60c.value() < *conductor.ampacity);
      CHECK(conductor.ampacity_90c.value() > *conductor.ampacity);
      last = *conductor.ampacity;
    }
  }
}

TEST_CASE("conductors: all sizes are there, each figure with its source") {
  const Tables tables = load_tables();
  CHECK(tables.conductors.size() == 18 * 2 + 9 + 5);  // AWG and kcmil, metric copper and aluminium
  for (const Conductor& conductor : tables.conductors) {
    CAPTURE(conductor.name);
    CHECK_FALSE(conductor.resistance_source.title.empty());
    CHECK(conductor.ampacity.has_value() == !conductor.ampacity_source.title.empty());
    CHECK(conductor.small_conductor_limit.has_value() ==
          !conductor.small_conductor_source.title.empty());
    CHECK(conductor.dwelling_service_limit.has_value() ==
          !conductor.dwelling_service_source.title.empty());
    const bool metric = conductor.name.find("mm2") != std::string::npos;
    CHECK(conductor.reactance_source.title.empty() == metric);
  }
}

TEST_CASE("conductors: names are found however they are written") {
  struct Case {
    const char* written;
    const char* name;
  };
  const Case kCases[] = {
      {"12 Cu", "12 Cu"},           {"12 AWG Cu", "12 Cu"},
      {"12AWG cu", "12 Cu"},        {"  12   CU ", "12 Cu"},
      {"4/0 Al", "4/0 Al"},         {"4/0 awg AL", "4/0 Al"},
      {"250 Al", "250 Al"},         {"250 kcmil Al", "250 Al"},
      {"250 KCMIL Al", "250 Al"},   {"2.5 mm2 Cu", "2.5 mm2 Cu"},
      {"2.5 mm² Cu", "2.5 mm2 Cu"}, {"2.5mm² cu", "2.5 mm2 Cu"},
      {"4 mm2 Cu", "4 mm2 Cu"},     {"4 Cu", "4 Cu"},
  };
  const Tables tables = load_tables();
  const Vocabulary known = vocabulary(tables);
  for (const Case& c : kCases) {
    CAPTURE(c.written);
    CHECK(named(tables, c.written).name == c.name);
    CHECK(known.knows_conductor(c.written));
  }
}

TEST_CASE("conductors: what is no size, or has a unit that is not its own, is not found") {
  const Tables tables = load_tables();
  const Vocabulary known = vocabulary(tables);
  for (const char* name : {"", " ", "12", "Cu", "13 Cu", "12 Fe", "12 Cu Cu", "250 AWG Cu",
                           "12 kcmil Cu", "4 mm2 Al", "12 mm Cu", "²", "12 AWG solid Cu"}) {
    CAPTURE(name);
    CHECK(find_conductor(tables, name) == nullptr);
    CHECK_FALSE(known.knows_conductor(name));
  }
}

}  // namespace
}  // namespace evenleg
