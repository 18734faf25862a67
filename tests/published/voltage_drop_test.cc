// Sources on voltage drop, one for each case: a public page and an EC&M article ("Basics of
// calculating voltage drop"), both with figures of NFPA 70, National Electrical Code, chapter 9,
// tables 8 and 9, and one case from memory. Their resistances are entered as measured ones.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

constexpr double kFeetPerKilofoot = 1000;

// Volts lost on the way to one load on 120 V systems, both conductors of `ohms_per_kft`.
Volts two_wire_drop(double source_volts, double ohms_per_kft, double feet, double amps) {
  const DescribedHouse house(
      kTwoLegs, fmt::format(R"(
supply = {{system = "120/240 split-phase", volts = {}}}
service = {{hot_ohms = {}}}
load = [{{name = "load", at = "L1", measured_amps = {}}}]
)",
                            source_volts, ohms_per_kft * feet / kFeetPerKilofoot, amps));
  return volts(source_volts) - house.intact().load_volts("load");
}

// Volts lost between lines to a balanced load of unity power factor on 277/480 V.
Volts three_phase_drop(double ohms_per_kft, double feet, double amps) {
  const DescribedHouse house(kThreeLegs,
                             fmt::format(R"(
supply = {{system = "230/400 wye", volts = 277.1281292110204}}  # 480 / sqrt 3
service = {{hot_ohms = {}}}
load = [{{name = "1", at = "L1", measured_amps = {}}},
        {{name = "2", at = "L2", measured_amps = {}}},
        {{name = "3", at = "L3", measured_amps = {}}}]
)",
                                         ohms_per_kft * feet / kFeetPerKilofoot, amps, amps, amps));
  constexpr double kLineVolts = 480;
  return volts(kLineVolts) - house.intact().between_legs("L1", "L2");
}

// Public page, table 8: 16 AWG stranded copper, 4.99 ohms per 1000 ft, 100 ft one way, 4 A on 24 V.
// Printed: 4.0 V, 16.7 %. The percentage was taken from the rounded volts: 3.992 V is 16.63 %.
TEST_CASE("voltage drop page: two wires of 16 AWG") {
  const Volts drop = two_wire_drop(24, 4.99, 100, 4);
  CHECK(matches_printed(drop, "4.0"));
  CHECK(matches_printed(drop, "3.992"));
  CHECK_FALSE(matches_printed(100 * (drop / volts(24)), "16.7"));
  CHECK(matches_printed(100 * (drop / volts(24)), "16.63"));
}

// EC&M, table 9: 10 AWG 1.1 and 12 AWG 1.7 ohms to neutral per 1000 ft, 20 A.
// Printed for 200 ft: 7.6 V (the text then has 7.7 V, a misprint) and 11.8 V; for 500 ft: 18 V (a
// misprint, 1.732 x 0.55 x 20 = 19.05 V) and 29 V.
TEST_CASE("EC&M, basics of calculating voltage drop: three-phase volts lost") {
  CHECK(matches_printed(three_phase_drop(1.1, 200, 20), "7.6"));
  CHECK_FALSE(matches_printed(three_phase_drop(1.1, 200, 20), "7.7"));
  CHECK(matches_printed(three_phase_drop(1.7, 200, 20), "11.8"));
  CHECK_FALSE(matches_printed(three_phase_drop(1.1, 500, 20), "18"));
  CHECK(matches_printed(three_phase_drop(1.1, 500, 20), "19.05"));
  CHECK(matches_printed(three_phase_drop(1.7, 500, 20), "29"));
}

// Printed: the longest run that loses no more than 14.4 V is 377 ft of 10 AWG, 244 ft of 12 AWG.
TEST_CASE("EC&M, basics of calculating voltage drop: the longest runs for 14.4 V") {
  constexpr Volts kMost = volts(14.4);
  CHECK(three_phase_drop(1.1, 377, 20) <= kMost);
  CHECK(three_phase_drop(1.1, 378, 20) > kMost);
  CHECK(three_phase_drop(1.7, 244, 20) <= kMost);
  CHECK(three_phase_drop(1.7, 245, 20) > kMost);
}

// Table 8 from memory: 12 AWG stranded copper 1.98 ohms per 1000 ft. By hand, 100 ft and 16 A on
// 120 V: 2 x 0.198 x 16 = 6.336 V, 5.28 %.
TEST_CASE("voltage drop, table 8 from memory: 12 AWG at 16 A") {
  const Volts drop = two_wire_drop(120, 1.98, 100, 16);
  CHECK(matches_printed(drop, "6.336"));
  CHECK(matches_printed(100 * (drop / volts(120)), "5.28"));
}

}  // namespace
}  // namespace evenleg
