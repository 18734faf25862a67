// The smallest spread for each number of moves by trying every assignment of circuits to legs, for
// panels small enough: what plans are held against.
//
// Written from the rules that evenleg/balance/balance.h states, not from the planner: an assignment
// is judged circuit by circuit, and whether it can be built is tried out breaker by breaker.
#pragma once

#include <vector>

#include "evenleg/balance/balance.h"

namespace evenleg {

// [moves]: the smallest spread of exactly so many moves; infinite where there is none.
[[nodiscard]] std::vector<double> every_plan(const House& house, const Tables& tables,
                                             bool keep_spares);

// What is wrong with a house that a plan made, of what the rules ask; "" where nothing is.
[[nodiscard]] std::string not_buildable(const House& before, const House& planned,
                                        const Tables& tables);

}  // namespace evenleg
