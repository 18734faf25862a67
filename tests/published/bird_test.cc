// Source: J. O. Bird, Electrical Circuit Theory and Technology, chapter 19, example 4, p. 301; the
// same as Electrical and Electronic Principles and Technology, chapter 20, problem 4. Inputs and
// results as stored in published companions of both books (FOSSEE, IIT Bombay); the printed books
// were not seen.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// 415 V four-wire; 24, 18 and 12 kW. The book rounds 415 / sqrt 3 = 239.60 V to 240 V and goes on
// from there. Printed: 100, 75 and 50 A, neutral 43.3 A.
TEST_CASE("Bird, chapter 19, example 4: unequal resistive loads on 415 V") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "230/400 wye", volts = 240}
load = [{name = "R", at = "L1", watts = 24000, volts = 240},
        {name = "Y", at = "L2", watts = 18000, volts = 240},
        {name = "B", at = "L3", watts = 12000, volts = 240}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "100"));
  CHECK(matches_printed(solved.leg_amps("L2"), "75"));
  CHECK(matches_printed(solved.leg_amps("L3"), "50"));
  CHECK(matches_printed(solved.neutral_amps(), "43.3"));
}

}  // namespace
}  // namespace evenleg
