// Source: B. L. Theraja, A. K. Theraja, A Textbook of Electrical Technology, volume III, chapter 40
// "D.C. transmission and distribution". Inputs and results as stored in a published companion of
// the book (FOSSEE, IIT Bombay, Python Textbook Companions); the printed book was not seen.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// Example 40.20, p. 1594: 2 x 250 V, 3 ohms and 4 ohms, 0.05 ohm in all three wires. Printed: 244.9
// V across 3 ohms, 247.9 V across 4 ohms.
TEST_CASE("Theraja, example 40.20: resistance in all three wires") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase", volts = 250}
service = {hot_ohms = 0.05}
load = [{name = "3 ohm", at = "L1", ohms = 3}, {name = "4 ohm", at = "L2", ohms = 4}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.load_volts("3 ohm"), "244.9"));
  CHECK(matches_printed(solved.load_volts("4 ohm"), "247.9"));
}

}  // namespace
}  // namespace evenleg
