// Source: M. Nahvi, J. A. Edminister, Electric Circuits (Schaum's Outline), an older edition's
// three-wire example, inputs and answers from memory: line 208 V, phases CBA, A at -90 degrees; 6
// at 0, 6 at 30 and 5 at 45 degrees ohms in star. Its answers come from a slide rule, so those that
// its digits do not hold are marked, and what is held is Millman's theorem by hand, E being
// 208/sqrt 3 = 120.089 V:
//   Y   = 0.166667, 0.144338 - j0.083333, 0.141421 - j0.141421; sum 0.452426 - j0.224755 S
//   E Y = -j20.0148, 20.0148, -6.2163 + j23.1994; sum 13.7986 + j3.1846 A
//   star point 21.6575 + j17.7978 V, 28.032 V
//   A: -21.6575 - j137.8867 V, 139.577 V, / 6 = 23.263 A at 261.07 degrees
//   B: 82.3425 + j42.2466 V, 92.548 V, / 6 = 15.425 A at 27.16 - 30 = -2.84 degrees
//   C: -125.6575 + j42.2466 V, 132.569 V, / 5 = 26.514 A at 161.42 - 45 = 116.42 degrees
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string_view>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

TEST_CASE("Edminister, three-wire wye of phases CBA") {
  const DescribedHouse house(
      kThreeLegs, fmt::format(R"(
[supply]
system = "120/208 wye"
volts = 120.08885599  # 208 / sqrt 3
[[load]]
name = "A"
at = "L1"
{}
[[load]]
name = "B"
at = "L3"
{}
[[load]]
name = "C"
at = "L2"
{}
)",
                              impedance_keys(6), impedance_keys(std::polar(6.0, radians(30))),
                              impedance_keys(std::polar(5.0, radians(45)))));
  const SolvedHouse solved = house.neutral_open();
  struct Answer {
    std::string_view by_hand;
    std::string_view remembered;
    bool agrees;
  };
  struct Row {
    std::string_view load;
    Answer amps, degrees, volts;
  };
  const Row kRows[] = {
      {"A", {"23.263", "23.3", true}, {"261.07", "261.1", true}, {"139.577", "139.8", false}},
      {"B", {"15.425", "15.45", false}, {"-2.84", "-2.5", false}, {"92.548", "92.7", false}},
      {"C", {"26.514", "26.5", true}, {"116.42", "116.6", false}, {"132.569", "132.5", false}},
  };
  const Complex a_at_minus_90(0, -1);
  for (const Row& row : kRows) {
    CAPTURE(row.load);
    const Amps amps = solved.load_amps(row.load);
    const Volts volts = solved.load_volts(row.load);
    const Complex turned = solved.load_current(row.load).si() * a_at_minus_90;
    CHECK(matches_printed(amps, row.amps.by_hand));
    CHECK(matches_printed(volts, row.volts.by_hand));
    CHECK(matches_printed_angle(turned, row.degrees.by_hand));
    CHECK(matches_printed(amps, row.amps.remembered).holds == row.amps.agrees);
    CHECK(matches_printed(volts, row.volts.remembered).holds == row.volts.agrees);
    CHECK(matches_printed_angle(turned, row.degrees.remembered).holds == row.degrees.agrees);
  }
  CHECK(matches_printed(magnitude(solved.neutral_shift()), "28.032"));
}

}  // namespace
}  // namespace evenleg
