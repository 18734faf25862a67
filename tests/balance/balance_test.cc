// Plans against every assignment of circuits to legs (every_plan.h).
#include "evenleg/balance/balance.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/balance/every_plan.h"
#include "tests/balance/random_panel.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSame = 1e-6;  // A

void check_panel(const House& house, const Tables& tables, bool keep_spares) {
  const Balance found = balance(house, tables, {.keep_spares = keep_spares});
  CHECK(found.complete);
  const std::vector<double> expected = every_plan(house, tables, keep_spares);
  double best = found.spread_amps;
  std::size_t next = 0;
  for (std::size_t moves = 1; moves < expected.size(); ++moves) {
    CAPTURE(moves);
    if (expected[moves] >= best - kSame) continue;
    best = expected[moves];
    REQUIRE(next < found.plans.size());
    const BalancePlan& plan = found.plans[next++];
    CHECK(plan.moves == static_cast<int>(moves));
    CHECK(plan.proven);
    CHECK(close(plan.spread_amps, best, kSame));
    const House planned = with_plan(house, plan);
    CHECK(not_buildable(house, planned, tables) == "");
    int counted = 0;
    for (const CircuitMove& move : plan.moved) counted += move.counts() ? 1 : 0;
    CHECK(counted == plan.moves);
    if (keep_spares) {
      for (const CircuitMove& move : plan.moved) {
        bool was_taken = false;
        for (const Circuit& circuit : house.circuits) {
          for (int pole = 0; pole < circuit.poles; ++pole) {
            was_taken = was_taken || *circuit.space + 2 * pole == move.to_space;
          }
        }
        CHECK(was_taken);
      }
    }
  }
  CHECK(next == found.plans.size());
}

TEST_CASE("eight random panels of 20 spaces: every plan is the best of all assignments") {
  const Tables tables = load_tables();
  for (std::uint32_t seed = 1; seed <= 8; ++seed) {
    CAPTURE(seed);
    const House house = random_panel(seed);
    check_panel(house, tables, false);
    check_panel(house, tables, true);
  }
}

TEST_CASE("random panels on three legs: every plan is the best of all assignments") {
  const Tables tables = load_tables();
  RandomPanelOptions options;
  options.system = "120/208 wye";
  options.spaces = 12;
  for (std::uint32_t seed = 1; seed <= 12; ++seed) {
    CAPTURE(seed);
    check_panel(random_panel(seed, options), tables, seed % 2 == 0);
  }
}

TEST_CASE("small panels of every sort") {
  const Tables tables = load_tables();
  RandomPanelOptions options;
  options.spaces = 8;
  options.multiwire = 0.4;
  options.joined = 0.3;
  options.two_poles = 0.3;
  options.tandem = 0.2;
  options.locked = 0.2;
  for (std::uint32_t seed = 1; seed <= 120; ++seed) {
    CAPTURE(seed);
    options.system = seed % 2 == 0 ? "120/208 wye" : "120/240 split-phase";
    options.empty = seed % 3 == 0 ? 0.4 : 0.0;
    check_panel(random_panel(seed, options), tables, seed % 5 == 0);
  }
}

}  // namespace
}  // namespace evenleg
