// A panel's plan as a mixed-integer programme for an external solver (COIN-OR cbc), where it is
// installed: the second opinion on panels too large to enumerate.
#pragma once

#include <optional>
#include <string>

#include "evenleg/balance/balance.h"

namespace evenleg {

// Split-phase, one panel, every multiwire joined, no tandem breakers: a choice can be built where
// each leg has spaces enough. CPLEX LP format: the smallest spread of at most `moves` moves.
[[nodiscard]] std::string as_programme(const House& house, const Tables& tables, int moves);

// The optimum; nothing where no solver is installed.
[[nodiscard]] std::optional<double> solve_with_cbc(const std::string& programme);

}  // namespace evenleg
