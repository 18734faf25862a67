// The fewest moves that even the legs, proven.
//
// For each number of moved circuits the smallest spread (largest service leg less the smallest) over
// all scenarios, the largest of their spreads counting. A moved circuit changes leg; a circuit that
// only slides to another space of its leg is listed and not counted. What a plan keeps to:
//   - single-pole circuits sit on any space of their leg; a two-pole circuit takes two spaces one
//     above the other, a three-pole one three; on a bus of three legs a two-pole circuit may change
//     its pair; on two legs it keeps both;
//   - circuits of a multiwire sit on different legs; where one of them moves, all of them come one
//     above the other, so that a common disconnect can join them;
//   - locked circuits, feeders, circuits without a space, and two-pole circuits that say their legs
//     themselves stay where they are; every circuit stays in its panel;
//   - a tandem breaker's halves hold circuits of one pole and standard protection only, on the leg
//     that each half has now;
//   - with `keep_spares`, spaces that are empty stay so.
// `proven`: no choice of so many circuits has a smaller spread. Ties go to the choice found first;
// the result does not depend on the machine.
#pragma once

#include <algorithm>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/balance/leg_loads.h"

namespace evenleg {

struct CircuitMove {
  int circuit = 0;
  int panel = 0;
  int from_space = 0;
  int to_space = 0;
  std::vector<std::string> from_legs;  // by pole
  std::vector<std::string> to_legs;
  bool names_legs = false;  // its new place needs `legs`: half of a tandem breaker
  // A two-pole circuit that slides by one row has the same legs on its poles the other way round.
  [[nodiscard]] bool counts() const {
    return !std::is_permutation(from_legs.begin(), from_legs.end(), to_legs.begin(), to_legs.end());
  }
};

struct BalancePlan {
  int moves = 0;  // of those that count
  double spread_amps = 0;
  bool proven = false;
  std::vector<CircuitMove> moved;  // those that count first, then those that slide
  std::vector<LegLoads> scenarios;  // as the plan leaves them
};

// A circuit that no plan moves, and why: "locked", "no space is known".
struct FixedCircuit {
  int circuit = 0;
  std::string why;
};

struct Balance {
  std::vector<LegLoads> scenarios;  // as found first
  double spread_amps = 0;           // the largest of theirs
  std::vector<BalancePlan> plans;   // by number of moves, each better than all before
  std::vector<FixedCircuit> fixed;
  std::vector<int> measured;        // circuits that count with a reading as found
  bool complete = true;  // false: plans of more moves than the last searched were not looked for
  int searched_moves = 0;           // up to so many
};

struct BalanceOptions {
  bool keep_spares = false;
  std::function<void(std::string_view doing, int done, int all)> progress{};
};

// Requires: validate() found nothing.
[[nodiscard]] Balance balance(const House& house, const Tables& tables,
                              const BalanceOptions& options = {});

// The house with a plan's circuits in their new places; loads that name legs (`connect`) follow.
[[nodiscard]] House with_plan(const House& house, const BalancePlan& plan);

}  // namespace evenleg
