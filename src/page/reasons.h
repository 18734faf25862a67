// Why a row of the ranking stands where it stands, as one sentence for each.
#pragma once

#include <string>
#include <vector>

#include "evenleg/audit/audit.h"

namespace evenleg {

// In the order of the ranking.
[[nodiscard]] std::vector<std::string> ranking_reasons(const House& house, const Tables& tables,
                                                       const Audit& audit);

}  // namespace evenleg
