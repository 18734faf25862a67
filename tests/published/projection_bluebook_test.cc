// Source: F. H. Richardson's Bluebook of Projection, p. 101, paragraphs 5 to 7 (7th edition, judged
// from the catalogue entry of the scan; read in its machine-made text). An Edison three-wire
// circuit.
#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// 110/220 V, lamps of 11 ohms and 22 ohms. Printed: 10 A, 5 A, neutral 5 A.
TEST_CASE("Bluebook of Projection, p. 101: two lamps on a three-wire circuit") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase", volts = 110}
load = [{name = "L", at = "L1", ohms = 11}, {name = "J", at = "L2", ohms = 22}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "10"));
  CHECK(matches_printed(solved.leg_amps("L2"), "5"));
  CHECK(matches_printed(solved.neutral_amps(), "5"));
}

// Loads of 6, 6 and 4 A on one side, 4 and 4 A on the other. Printed: 16 A, 8 A, neutral 8 A; with
// the third load moved to the other side 12 A, 12 A, neutral 0 A.
TEST_CASE("Bluebook of Projection, p. 101: moving one load evens the legs") {
  struct Row {
    std::string third_load_at;
    std::string_view leg_1;
    std::string_view leg_2;
    std::string_view neutral;
  };
  const Row kRows[] = {{"L1", "16", "8", "8"}, {"L2", "12", "12", "0"}};
  for (const Row& row : kRows) {
    CAPTURE(row.third_load_at);
    const DescribedHouse house(kTwoLegs, std::string(R"(
supply = {system = "120/240 split-phase", volts = 110}
load = [{name = "first", at = "L1", amps = 6, volts = 110},
        {name = "second", at = "L1", amps = 6, volts = 110},
        {name = "fourth", at = "L2", amps = 4, volts = 110},
        {name = "fifth", at = "L2", amps = 4, volts = 110},
        {name = "third", amps = 4, volts = 110, at = ")") +
                                             row.third_load_at + "\"}]\n");
    const SolvedHouse solved = house.intact();
    CHECK(matches_printed(solved.leg_amps("L1"), row.leg_1));
    CHECK(matches_printed(solved.leg_amps("L2"), row.leg_2));
    CHECK(matches_printed(solved.neutral_amps(), row.neutral));
  }
}

}  // namespace
}  // namespace evenleg
