// Plans against an external solver on the same problem.
#include "tests/balance/external_solver.h"

#include <doctest/doctest.h>

#include "tests/balance/random_panel.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSolverTolerance = 1e-4;  // A; it takes 1e-6 for an integer

void check_against_solver(const RandomPanelOptions& options, std::uint32_t seed, int most_moves) {
  CAPTURE(options.spaces);
  CAPTURE(seed);
  const Tables tables = load_tables();
  const House house = random_panel(seed, options);
  const Balance found = balance(house, tables);
  for (int moves = 1; moves <= most_moves; ++moves) {
    const auto expected = solve_with_cbc(as_programme(house, tables, moves));
    if (!expected) {
      MESSAGE("cbc is not installed: nothing compared");
      return;
    }
    double best = found.spread_amps;
    for (const BalancePlan& plan : found.plans) {
      if (plan.moves <= moves) best = plan.spread_amps;
    }
    CAPTURE(moves);
    CHECK(close(best, *expected, kSolverTolerance));
  }
}

TEST_CASE("plans are those of an external mixed-integer solver") {
  RandomPanelOptions options;
  options.tandem = 0;
  options.joined = 1;
  for (std::uint32_t seed = 21; seed <= 24; ++seed) check_against_solver(options, seed, 6);
  options.spaces = 42;
  options.scenarios = 7;
  check_against_solver(options, 31, 3);
}

}  // namespace
}  // namespace evenleg
