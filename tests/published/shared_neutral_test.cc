// Source: two answers on public pages about circuits that share a neutral, with both hots on
// opposite legs and, as a wiring mistake, on the same leg (addresses not recorded). Whole amperes.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string_view>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// A multiwire circuit of two loads, its second circuit on `leg`.
SolvedHouse multiwire(double first_amps, double second_amps, std::string_view leg) {
  return DescribedHouse("", fmt::format(R"(
format = 1
house = {{name = "two circuits on one neutral"}}
supply = {{system = "120/240 split-phase"}}
panel = [{{name = "Main", spaces = 4}}]
circuit = [{{name = "first", legs = ["L1"]}}, {{name = "second", legs = ["{}"]}}]
multiwire = [{{name = "shared", circuits = ["first", "second"]}}]
load = [{{name = "load 1", at = "first", amps = {}}},
        {{name = "load 2", at = "second", amps = {}}}]
)",
                                        leg, first_amps, second_amps))
      .intact();
}

TEST_CASE("shared neutral: opposite legs subtract, the same leg adds") {
  struct Row {
    double first_amps, second_amps;
    std::string_view leg;
    std::string_view neutral;
  };
  const Row kRows[] = {
      {15, 5, "L2", "10"},                                           // first page
      {15, 15, "L2", "0"}, {15, 15, "L1", "30"}, {5, 6, "L2", "1"},  // second page
      {5, 6, "L1", "11"},
  };
  for (const Row& row : kRows) {
    CAPTURE(row.first_amps);
    CAPTURE(row.second_amps);
    CAPTURE(row.leg);
    const SolvedHouse solved = multiwire(row.first_amps, row.second_amps, row.leg);
    CHECK(matches_printed(solved.multiwire_neutral_amps("shared"), row.neutral));
    CHECK(matches_printed(solved.neutral_amps(), row.neutral));
  }
}

// The first page adds that a meter between two hots of the same leg shows 0 V.
TEST_CASE("shared neutral: no volts between two hots of the same leg") {
  const SolvedHouse solved = multiwire(15, 15, "L1");
  const VoltagePhasor between = solved.load_phasor("load 1") - solved.load_phasor("load 2");
  CHECK(matches_printed(magnitude(between), "0"));
}

}  // namespace
}  // namespace evenleg
