// Source: J. Mollera Barriga, Qüestions Electrotècniques Diverses, v15.0 (2025), chapter on
// fundamentals, the two examples of Millman's theorem with a neutral. Printed to 0.0001.
#include <doctest/doctest.h>

#include <string_view>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// 230 V; phase A at 0, B at 240, C at 120 degrees; 50, 80 and 70 milliohms; 46 ohms in the neutral.
// The neutral's admittance is two thousand times smaller than the loads': a test of conditioning.
constexpr const char* kExample = R"(
supply = {system = "230/400 wye"}
service = {hot_ohms = 0, neutral_ohms = 46}
load = [{name = "A", at = "L1", ohms = 0.050}, {name = "B", at = "L2", ohms = 0.080},
        {name = "C", at = "L3", ohms = 0.070}]
)";

struct Row {
  std::string_view load;
  std::string_view amps;
  std::string_view degrees;
};

TEST_CASE("Mollera, Millman's theorem: a neutral of 46 ohms") {
  const SolvedHouse solved = DescribedHouse(kThreeLegs, kExample).intact();
  CHECK(matches_printed(magnitude(solved.neutral_shift()), "33.3433"));
  CHECK(matches_printed_angle(solved.neutral_shift(), "13.17"));
  CHECK(matches_printed(solved.neutral_amps(), "0.7249"));
  CHECK(matches_printed_angle(solved.neutral_current(), "13.17"));
  const Row kRows[] = {
      {"A", "3953.6056", "-2.20"}, {"B", "3174.7573", "-125.49"}, {"C", "3453.8265", "127.59"}};
  for (const Row& row : kRows) {
    CAPTURE(row.load);
    CHECK(matches_printed(solved.load_amps(row.load), row.amps));
    CHECK(matches_printed_angle(solved.load_current(row.load), row.degrees));
  }
}

TEST_CASE("Mollera, Millman's theorem: the same with the neutral open") {
  const SolvedHouse solved = DescribedHouse(kThreeLegs, kExample).neutral_open();
  CHECK(matches_printed(magnitude(solved.neutral_shift()), "33.3588"));
  CHECK(matches_printed_angle(solved.neutral_shift(), "13.17"));
  CHECK(matches_printed(solved.neutral_amps(), "0.0000"));
  const Row kRows[] = {
      {"A", "3953.3068", "-2.20"}, {"B", "3174.9027", "-125.50"}, {"C", "3453.9180", "127.59"}};
  for (const Row& row : kRows) {
    CAPTURE(row.load);
    CHECK(matches_printed(solved.load_amps(row.load), row.amps));
    CHECK(matches_printed_angle(solved.load_current(row.load), row.degrees));
  }
}

}  // namespace
}  // namespace evenleg
