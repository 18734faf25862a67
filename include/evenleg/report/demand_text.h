// A service calculation for people, in plain text: the answer, every step with its rule, the legs
// and the neutral, what they are held against, the loads by category, the sources.
//
// At most 100 columns. Whole VA or W; amperes to 0.1, and whole where the rule rounds.
#pragma once

#include <string>
#include <string_view>

#include "evenleg/balance/demand.h"

namespace evenleg {

[[nodiscard]] std::string demand_text(const House& house, const DemandResult& result);

// What every form of a service calculation says of itself.
[[nodiscard]] std::string_view demand_caution();

}  // namespace evenleg
