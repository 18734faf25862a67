// The harmonics of an audit: which rows they fill and what stays as it was. Figures by hand; more
// of them in tests/network/harmonics_test.cc and tests/published.
#include "evenleg/audit/harmonics.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "tests/audit/described_audit.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr std::string_view kHouse = R"(
format = 1
house = {name = "two legs"}
supply = {system = "120/240 split-phase"}
service = {hot_ohms = 0, neutral_ohms = 0}
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "One", legs = ["L1"]}, {name = "Two", legs = ["L2"]}]
multiwire = [{name = "Pair", circuits = ["One", "Two"]}]
[[load]]
name = "Computer"
at = "One"
amps = 10
spectrum = { 3 = 60, 5 = 40 }
[[load]]
name = "Heater"
at = "Two"
ohms = 12
)";

constexpr double kExact = 1e-9;

// 10 A against 10 A: nothing at the fundamental, 6 A and 4 A at orders 3 and 5, sqrt 52 in all.
TEST_CASE("audit: harmonics of legs, service and shared neutral") {
  const DescribedAudit found = audit_of(kHouse);
  REQUIRE(found.audit.harmonics.has_value());
  const Harmonics& harmonics = *found.audit.harmonics;
  REQUIRE(harmonics.legs.size() == found.audit.legs.size());
  REQUIRE(harmonics.neutrals.size() == found.audit.neutrals.size());
  CHECK(close(harmonics.legs[0].current.rms.si(), std::sqrt(152.0), kExact));
  CHECK(close(*harmonics.legs[0].current.distortion, std::sqrt(0.52), kExact));
  CHECK(close(harmonics.legs[1].current.rms.si(), 10, kExact));
  CHECK(close(*harmonics.legs[1].current.distortion, 0, kExact));
  for (const HarmonicCurrent& neutral : harmonics.neutrals) {
    CHECK(close(neutral.rms.si(), std::sqrt(52.0), kExact));
    CHECK_FALSE(neutral.distortion.has_value());
    REQUIRE(neutral.orders.size() == 3);
    CHECK(close(neutral.orders[1].amps.si(), 6, kExact));
    CHECK(close(neutral.orders[2].amps.si(), 4, kExact));
  }
  CHECK(harmonics.loads == std::vector<int>{0});
  CHECK(harmonics.sources.empty());  // the spectrum is the load's own
}

// The rest of the audit is about the fundamental alone.
TEST_CASE("audit: harmonics leave the figures of the fundamental as they are") {
  const DescribedAudit found = audit_of(kHouse);
  CHECK(close(found.audit.legs[0].amps.si(), 10, kExact));
  CHECK(close(found.neutral("Pair").amps.si(), 0, kExact));
}

// An ideal supply has no distortion. With 0.5 ohm added in the neutral, the volts at orders 3 and 5
// on the heater's leg are those of the neutral: 0.5 x what flows there. The heater is a 12 ohm path
// to the other end, so of 6 A (order 3, of the 10 A that the computer draws then) 12 / 12.5 stay in
// it.
TEST_CASE("audit: a degraded neutral distorts the volts at the panel") {
  const DescribedAudit found = audit_of(kHouse);
  const Harmonics& harmonics = *found.audit.harmonics;
  CHECK(harmonics.degraded_neutral.si() == 0.5);
  CHECK(close(*harmonics.legs[0].volts_distortion, 0, kExact));
  // Both loads are 12 ohms: the neutral stays at 0 V and the computer draws 10 A.
  const double into_neutral = 12 / 12.5;
  const double third = 0.5 * 6 * into_neutral;
  const double fifth = 0.5 * 4 * into_neutral;
  for (const HarmonicLeg& leg : harmonics.legs) {
    CHECK(close(*leg.volts_distortion_degraded, std::hypot(third, fifth) / 120, kExact));
  }
}

TEST_CASE("audit: no harmonics where no load that is on has a spectrum") {
  std::string text(kHouse);
  text.replace(text.find("amps = 10\n"), 10, "amps = 10\non = false\n");
  CHECK_FALSE(audit_of(text).audit.harmonics.has_value());
}

TEST_CASE("audit: a kind's spectrum is taken with its source") {
  std::string text(kHouse);
  text.replace(text.find("spectrum = { 3 = 60, 5 = 40 }"), 29, "kind = \"cfl\"");
  const DescribedAudit found = audit_of(text);
  REQUIRE(found.audit.harmonics.has_value());
  REQUIRE(found.audit.harmonics->sources.size() == 1);
  CHECK(found.audit.harmonics->sources[0].title.find("Masters") != std::string::npos);
  // 80 % of 10 A.
  CHECK(close(found.audit.harmonics->neutrals[0].orders[1].amps.si(), 8, kExact));
}

}  // namespace
}  // namespace evenleg
