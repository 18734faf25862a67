// The best choice found, without proof: ascent on the exact value by separable first-order choices.
//
// From a credible start: at the present choice the gradient makes V linear in the choice, whose best
// credible choice is exact (cloud.h); it is taken if the true |V| improves. When that stops, each
// element alone is tried with its best state. Ends where neither improves.
#pragma once

#include <optional>

#include "src/audit/problem.h"

namespace evenleg {

enum class Goal { Highest, Lowest };

struct Found {
  Choice choice;
  double magnitude = 0;  // |V|
};

// Starts from `start` where it is a credible choice of this problem, else from any choice; nothing
// when there is none.
[[nodiscard]] std::optional<Found> search(const Problem& problem, Goal goal,
                                          const std::optional<Choice>& start = std::nullopt);

// a is better than b.
[[nodiscard]] bool improves(Goal goal, double a, double b);

}  // namespace evenleg
