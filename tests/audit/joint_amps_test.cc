// The amperes through a joint by search and certificate alone against every subset of the loads,
// solved by the sparse engine.
#include <doctest/doctest.h>

#include <cmath>

#include "src/audit/worst_case.h"
#include "tests/audit/brute_force.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSame = 1e-6;  // A, between engines

struct Tally {
  int asked = 0;
  int proven = 0;
};

void check_house(const BuiltHouse& house, Tally& tally) {
  WorstCaseOptions nothing_enumerated;
  nothing_enumerated.enumerate_up_to = 0;
  nothing_enumerated.enumerate_at_most = 0;
  nothing_enumerated.certificate.enumerate_up_to = 1;
  nothing_enumerated.certificate.most_tests = 3000;
  const WorstCase worst(house.house, house.model, nothing_enumerated);
  const OnStates credible = credible_subsets(house);
  for (const Place& place : house.places) {
    for (const double ohms : {0.02, 0.5, 8.0, 150.0}) {
      CAPTURE(place.name);
      CAPTURE(ohms);
      const NeutralFault fault{place, ohms};
      const auto found = worst.joint_amps(fault);
      Range amps;
      for (const std::vector<bool>& on : credible) {
        amps.take(neutral_amps(solved(house, on, fault), place));
      }
      REQUIRE(found.has_value() == amps.seen());
      if (!found) continue;
      ++tally.asked;
      CHECK(found->value.si() <= amps.highest + kSame);
      CHECK(found->bound.si() >= amps.highest - kSame);
      if (found->proven) ++tally.proven;
      const std::vector<bool> on = only(house, found->on);
      CHECK(is_credible(house, on));
      CHECK(close(found->value.si(), neutral_amps(solved(house, on, fault), place), kSame));
    }
  }
}

TEST_CASE("amperes through a joint: never beyond the truth and the truth never beyond the bound") {
  const Tables tables = load_tables();
  Tally tally;
  for (std::uint64_t seed = 300; seed < 330; ++seed) {
    CAPTURE(seed);
    RandomHouseOptions options;
    options.loads = 6;
    check_house(built(random_house(seed, options), tables), tally);
  }
  MESSAGE(tally.proven << " of " << tally.asked << " proven");
  CHECK(tally.proven > tally.asked * 9 / 10);
}

}  // namespace
}  // namespace evenleg
