// The proofs of many questions, the loads furthest past their limits first, many at once.
#pragma once

#include <vector>

#include "src/audit/at_once.h"
#include "src/audit/neutral_limit.h"

namespace evenleg {

// Requires: all are searched.
void prove_worst_first(const std::vector<PlaceQuestion*>& questions, const LoadLimits& limits,
                       const Progress& progress);

// Only that no load goes beyond the highest and the lowest of all, much quicker; where that cannot
// be shown, bounds stay open.
void prove_outermost(const std::vector<PlaceQuestion*>& questions, const Progress& progress);

}  // namespace evenleg
