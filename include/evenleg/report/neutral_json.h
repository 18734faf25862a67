// One neutral in depth for programs: one JSON object, ended by a line end (README, "Keys of
// `neutral --json`").
//
// V, A, W, ohms, RMS, shortest digits that read back as the same double. A value that is absent or
// not finite is null: `ohms` is null where the neutral is removed.
#pragma once

#include <optional>
#include <string>

#include "evenleg/audit/neutral.h"

namespace evenleg {

// `scenario`: the scenario that stood for the house as found.
[[nodiscard]] std::string neutral_json(const House& house, const Tables& tables,
                                       const NeutralDepth& depth,
                                       const std::optional<std::string>& scenario = std::nullopt);

}  // namespace evenleg
