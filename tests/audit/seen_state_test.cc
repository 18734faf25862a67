// One state as someone watches it: a published three-wire circuit, an open neutral by hand, and
// random houses against the sparse engine.
#include "evenleg/audit/seen_state.h"

#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/describe/describe.h"
#include "tests/check.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

const Tables& tables() {
  static const Tables kTables = load_tables();
  return kTables;
}

House described_house(const std::string& text) {
  return read_description(text, "test", vocabulary(tables()));
}

// F. H. Richardson's Bluebook of Projection, p. 101 (see published/projection_bluebook_test.cc):
// 110/220 V, lamps of 11 and 22 ohms. Printed: 10 A, 5 A, neutral 5 A. With that neutral open, by
// hand: 33 ohms across 220 V carry 6.667 A, so that 73.33 V and 146.67 V stand across the lamps,
// and the neutral is off by 146.67 - 110 = 36.67 V.
constexpr const char* kTwoLamps = R"(
format = 1
house = {name = "two lamps"}
supply = {system = "120/240 split-phase", volts = 110}
panel = [{name = "Main", spaces = 2}]
circuit = [{name = "One", legs = ["L1"]}, {name = "Two", legs = ["L2"]}]
load = [{name = "L", at = "One", ohms = 11}, {name = "J", at = "Two", ohms = 22}]
)";

TEST_CASE("a three-wire circuit, sound and with its neutral open") {
  const StateWatcher watcher(described_house(kTwoLamps), tables());
  const SeenState sound = watcher.at({{true, true}, {}});
  REQUIRE(sound.status == SolveStatus::Solved);
  CHECK(matches_printed(sound.panels[0].legs[0].amps, "10"));
  CHECK(matches_printed(sound.panels[0].legs[1].amps, "5"));
  CHECK(matches_printed(sound.service_neutral_amps, "5"));
  CHECK(matches_printed(sound.circuit_amps[0][0], "10"));
  CHECK(matches_printed(sound.loads[0].watts, "1100"));

  const SeenState open = watcher.at({{true, true}, NeutralFault{watcher.places().front(), kOpen}});
  REQUIRE(open.status == SolveStatus::Solved);
  CHECK(matches_printed(*open.loads[0].volts, "73.33"));
  CHECK(matches_printed(*open.loads[1].volts, "146.67"));
  CHECK(matches_printed(*open.loads[1].sound_volts, "110.00"));
  CHECK(matches_printed(open.loads[1].amps, "6.667"));
  CHECK(matches_printed(open.neutral_shift, "36.67"));
  CHECK(open.service_neutral_amps.si() == 0);
  CHECK(matches_printed(*open.panels[0].legs[1].volts, "146.67"));
}

TEST_CASE("nothing holds a neutral that no load returns to") {
  const StateWatcher watcher(described_house(kTwoLamps), tables());
  const SeenState seen =
      watcher.at({{false, false}, NeutralFault{watcher.places().front(), kOpen}});
  REQUIRE(seen.status == SolveStatus::Solved);
  CHECK(seen.panels[0].isolated);
  CHECK_FALSE(seen.panels[0].legs[0].volts.has_value());
  CHECK_FALSE(seen.loads[0].volts.has_value());
  CHECK(seen.loads[0].sound_volts.has_value());
}

// By hand: 16 A of nameplate on a breaker of 15 A.
TEST_CASE("a state that a breaker would end is told as none that the audit counts") {
  House house = described_house(kTwoLamps);
  house.circuits[0].breaker_a = 15;
  house.loads[0].ohms.reset();
  house.loads[0].amps = 16;
  const StateWatcher watcher(house, tables());
  CHECK(watcher.at({{true, true}, {}}).not_credible.size() == 1);
  CHECK(watcher.at({{false, true}, {}}).not_credible.empty());
}

double largest(const std::vector<Complex>& values) {
  double most = 1;
  for (const Complex& value : values) most = std::max(most, std::abs(value));
  return most;
}

// Whether the other engine had an answer to compare with.
bool compare(const StateWatcher& watcher, const AskedState& asked) {
  const SeenState seen = watcher.at(asked);
  const Solution other =
      solve_sparse(watcher.model(), admittances(watcher.model(), asked.on), asked.fault);
  if (other.status != SolveStatus::Solved) return false;
  REQUIRE(seen.status == SolveStatus::Solved);
  constexpr double kAgreement = 1e-8;
  const double volts = kAgreement * largest(watcher.model().source);
  const double amps = kAgreement * largest(other.load_amps);
  for (std::size_t l = 0; l < seen.loads.size(); ++l) {
    CAPTURE(l);
    CHECK(close(seen.loads[l].amps.si(), std::abs(other.load_amps[l]), amps));
    if (seen.loads[l].volts) {
      CHECK(close(seen.loads[l].volts->si(), std::abs(other.load_volts[l]), volts));
    }
  }
  CHECK(close(seen.service_neutral_amps.si(), std::abs(other.service_neutral_amps), amps));
  for (std::size_t p = 0; p < seen.panels.size(); ++p) {
    for (std::size_t leg = 0; leg < seen.panels[p].legs.size(); ++leg) {
      CHECK(
          close(seen.panels[p].legs[leg].amps.si(), std::abs(other.panels[p].hot_amps[leg]), amps));
    }
  }
  return true;
}

TEST_CASE("random houses, every neutral sound, loosened and open, as the sparse engine has them") {
  int states = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const StateWatcher watcher(random_house(seed), tables());
    std::vector<bool> on = watcher.running(std::nullopt);
    for (std::size_t l = seed % 2; l < on.size(); l += 2) on[l] = !on[l];
    CHECK(compare(watcher, {on, {}}));
    for (const Place& place : watcher.places()) {
      for (const double ohms : {0.05, 3.0, kOpen}) {
        if (compare(watcher, {on, NeutralFault{place, ohms}})) ++states;
      }
    }
  }
  CHECK(states > 300);
}

}  // namespace
}  // namespace evenleg
