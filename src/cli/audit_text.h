// The audit as text, for the commands that show it beside `audit` itself.
#pragma once

#include <string>

#include "evenleg/house/house.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// Requires: validate(house) found nothing.
[[nodiscard]] std::string audit_text(const House& house, const Tables& tables);

}  // namespace evenleg
