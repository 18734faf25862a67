// Source: R. E. Thomas, A. J. Rosa, G. J. Toussaint, The Analysis and Design of Linear Circuits,
// problem 8-71: 120/240 V, 130 and 40 ohms on the legs, 10 ohms across. By hand: 120/40 - 120/130 =
// 27/13 A in the neutral; open, 240 V divides as 130 to 40.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-9;  // a hand calculation has no last digit

TEST_CASE("Thomas, Rosa, Toussaint, problem 8-71: a load across leaves the open neutral alone") {
  const DescribedHouse house(kTwoLegsAndAcross, R"(
supply = {system = "120/240 split-phase"}
load = [{name = "R1", at = "L1", ohms = 130}, {name = "R2", at = "L2", ohms = 40},
        {name = "R3", at = "Across", ohms = 10}]
)");
  CHECK(close(house.intact().neutral_amps().si(), 27.0 / 13, kExact));
  const SolvedHouse open = house.neutral_open();
  CHECK(close(open.load_volts("R1").si(), 240.0 * 130 / 170, kExact));
  CHECK(close(open.load_volts("R2").si(), 240.0 * 40 / 170, kExact));
  CHECK(close(open.load_volts("R3").si(), 240, kExact));
}

}  // namespace
}  // namespace evenleg
