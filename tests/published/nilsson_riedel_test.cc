// Source: J. W. Nilsson, S. A. Riedel, Electric Circuits, problem on residential wiring: 125/250 V,
// 40 and 400 ohms on the legs, 8 ohms across. By hand: open, 250 V divides as 1 to 10.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-9;  // a hand calculation has no last digit

TEST_CASE("Nilsson, Riedel, residential wiring: 40 ohms against 400 ohms") {
  const DescribedHouse house(kTwoLegsAndAcross, R"(
supply = {system = "120/240 split-phase", volts = 125}
load = [{name = "R1", at = "L1", ohms = 40}, {name = "R2", at = "L2", ohms = 400},
        {name = "R3", at = "Across", ohms = 8}]
)");
  const SolvedHouse open = house.neutral_open();
  CHECK(close(open.load_volts("R1").si(), 250.0 / 11, kExact));
  CHECK(close(open.load_volts("R2").si(), 2500.0 / 11, kExact));
}

}  // namespace
}  // namespace evenleg
