// How evenly the legs of a house are loaded, for programs: one JSON object, ended by a line end
// (README, "Keys of `balance --json`").
//
// A, V, percent, shortest digits that read back as the same double; what is absent is null.
#pragma once

#include <string>

#include "evenleg/report/balance_text.h"

namespace evenleg {

[[nodiscard]] std::string balance_json(const BalanceReport& report);

}  // namespace evenleg
