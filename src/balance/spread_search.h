// The smallest spread for each number of moves, proven: which option each of some units takes.
//
// A spread is the largest difference between two legs in any scenario, so the state of the house is
// a point whose coordinates are the differences of its legs two by two (one on two legs, three on
// three), scenario by scenario, and the spread its largest coordinate by size. Units add their
// options' points: x = base + sum of the chosen. With the units in two halves, all sums of one half
// are points a, of the other b, and the best choice of m moves is the nearest pair of base + a and
// -b whose moves add to m. For every a the nearest b is found in a tree of boxes (near_point.h),
// which leaves out a box only where all of it is further away than the best so far: so nothing better
// is missed. (Two halves as in E. Horowitz, S. Sahni, Computing partitions with applications to the
// knapsack problem, 1974; reference from memory.)
//
// Where the halves have too many sums, only choices of up to so many moves are listed, and found
// `complete` false.
#pragma once

#include <cstdint>
#include <functional>
#include <string_view>
#include <vector>

namespace evenleg {

// What a choice uses up, added over the units: how many circuits of each sort a panel must seat.
using Seats = std::vector<std::int16_t>;

struct UnitOption {
  int moves = 0;
  std::vector<double> amps;  // [scenario * legs + leg], what the unit draws with this option
  Seats seats;
};

struct SpreadUnit {
  std::vector<UnitOption> options;  // the first is as found, where that is allowed
};

struct SpreadProblem {
  std::size_t legs = 2;
  std::size_t scenarios = 1;
  std::vector<double> fixed;  // [scenario * legs + leg], what no option changes
  Seats fixed_seats;
  std::vector<SpreadUnit> units;
  std::function<bool(const Seats&)> buildable;
};

struct SpreadChoice {
  int moves = 0;
  double spread = 0;
  std::vector<int> options;  // by unit
};

struct SpreadPlans {
  std::vector<SpreadChoice> best;  // by moves, each better than all before
  bool complete = true;
  int searched_moves = 0;
};

struct SpreadLimits {
  std::size_t most_sums = 0;  // of a half; 0: a million, a quarter of it beyond ten coordinates
};

using SpreadProgress = std::function<void(std::string_view doing, int done, int all)>;

// `as_found`: the spread to be improved.
[[nodiscard]] SpreadPlans smallest_spreads(const SpreadProblem& problem, double as_found,
                                           const SpreadLimits& limits = {},
                                           const SpreadProgress& progress = {});

}  // namespace evenleg
