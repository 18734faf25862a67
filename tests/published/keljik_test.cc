// Source: the short formula for the neutral of a wye with resistive loads,
//   In = sqrt(A^2 + B^2 + C^2 - AB - BC - CA),
// with its example of 5, 8 and 10 A, on a public page that cites J. J. Keljik, Electricity 3
// (2009).
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string_view>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

SolvedHouse wye_of(double a, double b, double c) {
  return DescribedHouse(kThreeLegs, fmt::format(R"(
supply = {{system = "120/208 wye"}}
load = [{{name = "A", at = "L1", amps = {}}}, {{name = "B", at = "L2", amps = {}}},
        {{name = "C", at = "L3", amps = {}}}]
)",
                                                a, b, c))
      .intact();
}

TEST_CASE("Keljik: neutral of a wye by the short formula") {
  struct Row {
    double a, b, c;
    std::string_view printed;
  };
  const Row kRows[] = {
      {5, 8, 10, "4.36"},       // printed on the page
      {20, 15, 10, "8.66025"},  // by hand: sqrt(725 - 650) = sqrt 75
      {10, 8, 6, "3.46410"},    // by hand: sqrt(200 - 188) = sqrt 12
      {15, 15, 15, "0.00000"},  // by hand: nothing is left of equal loads
  };
  for (const Row& row : kRows) {
    CAPTURE(row.printed);
    CHECK(matches_printed(wye_of(row.a, row.b, row.c).neutral_amps(), row.printed));
  }
}

// A public answer to the 10, 8, 6 A case prints 15.1 A: its signs were lost on the way.
TEST_CASE("Keljik: a published answer with lost signs is not reproduced") {
  CHECK_FALSE(matches_printed(wye_of(10, 8, 6).neutral_amps(), "15.1"));
}

}  // namespace
}  // namespace evenleg
