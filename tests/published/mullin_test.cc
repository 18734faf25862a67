// Source: R. C. Mullin, P. Simmons, Electrical Wiring: Residential, 18th edition, chapter 17,
// review 4: 120/240 V, loads of 10 A and 5 A. By hand: 5 A in the neutral; open, 12 and 24 ohms in
// series on 240 V, 6.667 A, 80 V and 160 V.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-9;  // a hand calculation has no last digit

TEST_CASE("Mullin, chapter 17, review 4: 10 A against 5 A") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase"}
load = [{name = "10 A", at = "L1", amps = 10}, {name = "5 A", at = "L2", amps = 5}]
)");
  CHECK(close(house.intact().neutral_amps().si(), 5, kExact));
  const SolvedHouse open = house.neutral_open();
  CHECK(close(open.load_amps("10 A").si(), 240.0 / 36, kExact));
  CHECK(close(open.load_volts("10 A").si(), 80, kExact));
  CHECK(close(open.load_volts("5 A").si(), 160, kExact));
}

}  // namespace
}  // namespace evenleg
