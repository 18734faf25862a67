// The audit for programs: one JSON object, ended by a line end (README, "Output for programs").
//
// V, A, RMS, shortest digits that read back as the same double. A value that is absent or not
// finite is null. Names that are not UTF-8 have their broken bytes replaced.
#pragma once

#include <optional>
#include <string>

#include "evenleg/audit/audit.h"

namespace evenleg {

// `scenario`: the scenario that stood for the house as found.
[[nodiscard]] std::string audit_json(const House& house, const Tables& tables, const Audit& audit,
                                     const std::optional<std::string>& scenario = std::nullopt);

}  // namespace evenleg
