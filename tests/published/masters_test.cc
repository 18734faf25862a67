// Source: G. M. Masters, Renewable and Efficient Electric Power Systems. Example 2.13: a wye whose
// phases each carry 100, 50, 20, 10, 8, 4 and 2 A at orders 1, 3, 5, 7, 9, 11 and 13 (inputs read,
// the results computed by hand from the rule that it prints, In = 3 I3 for triplens):
//   phase    sqrt(100^2 + 50^2 + 20^2 + 10^2 + 8^2 + 4^2 + 2^2) = sqrt 13084 = 114.385 A
//   neutral  3 sqrt(50^2 + 8^2) = 3 sqrt 2564 = 151.908 A
// Compact fluorescent lamp, read: 0.15, 0.12, 0.08, 0.03 and 0.02 A at orders 1, 3, 5, 7 and 9,
// with a distortion of 99 %.
#include <doctest/doctest.h>

#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/describe/describe.h"
#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

Audit audit_of_loads(std::string_view shared, std::string own) {
  const Tables tables = load_tables();
  own = std::string(shared) + own;
  return audit(read_description(own, "example", vocabulary(tables)), tables);
}

constexpr std::string_view kOffice = R"(
supply = {system = "120/208 wye"}
[[load]]
name = "A"
at = "L1"
amps = 100
spectrum = { 3 = 50, 5 = 20, 7 = 10, 9 = 8, 11 = 4, 13 = 2 }
[[load]]
name = "B"
at = "L2"
amps = 100
spectrum = { 3 = 50, 5 = 20, 7 = 10, 9 = 8, 11 = 4, 13 = 2 }
[[load]]
name = "C"
at = "L3"
amps = 100
spectrum = { 3 = 50, 5 = 20, 7 = 10, 9 = 8, 11 = 4, 13 = 2 }
)";

TEST_CASE("Masters, example 2.13: triplens add in the neutral of a wye") {
  const Audit found = audit_of_loads(kThreeLegs, std::string(kOffice));
  REQUIRE(found.harmonics.has_value());
  for (const HarmonicLeg& leg : found.harmonics->legs) {
    CHECK(matches_printed(leg.current.rms, "114.385"));
  }
  const HarmonicCurrent& neutral = found.harmonics->neutrals[0];
  CHECK(matches_printed(neutral.rms, "151.908"));
  CHECK_FALSE(neutral.distortion.has_value());  // nothing is left of the fundamental
  for (const OrderAmps& part : neutral.orders) {
    CAPTURE(part.order);
    const double by_hand = part.order == 3 ? 150 : part.order == 9 ? 24 : 0;
    CHECK(close(part.amps.si(), by_hand, 1e-9));
  }
}

TEST_CASE("Masters: distortion of a compact fluorescent lamp") {
  const Audit found = audit_of_loads(kTwoLegs, R"(
supply = {system = "120/240 split-phase"}
[[load]]
name = "lamp"
at = "L1"
amps = 0.15
spectrum = { 3 = 80, 5 = 53.333333, 7 = 20, 9 = 13.333333 }
)");
  REQUIRE(found.harmonics.has_value());
  const HarmonicCurrent& leg = found.harmonics->legs[0].current;
  CHECK(matches_printed(100 * leg.distortion.value_or(0), "99"));
  CHECK(matches_printed(leg.orders[1].amps, "0.12"));
  CHECK(matches_printed(leg.orders[2].amps, "0.08"));
}

}  // namespace
}  // namespace evenleg
