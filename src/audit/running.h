// The loads that run as found, or in a scenario.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/network/model.h"

namespace evenleg {

// One entry for each load; a share above 0 counts as running.
// Throws: Error(Request) for a scenario that the house does not have.
[[nodiscard]] std::vector<bool> loads_running(const House& house, const Model& model,
                                              const std::optional<std::string>& scenario);

}  // namespace evenleg
