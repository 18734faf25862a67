// The proofs of many questions, the loads furthest past their limits first, many at once.
#pragma once

#include <vector>

#include "src/audit/at_once.h"
#include "src/audit/neutral_limit.h"

namespace evenleg {

// Requires: all are searched.
void prove_worst_first(std::vector<PlaceQuestion>& questions, const LoadLimits& limits,
                       const Progress& progress);

}  // namespace evenleg
