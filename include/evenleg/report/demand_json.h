// A service calculation for programs: one JSON object, ended by a line end (README, "Keys of
// `demand --json`"). VA or W, A, unrounded but for the keys that say whole; null: not known.
#pragma once

#include <string>

#include "evenleg/balance/demand.h"

namespace evenleg {

[[nodiscard]] std::string demand_json(const House& house, const DemandResult& result);

}  // namespace evenleg
