// What a load's line in a schedule says of it.
#pragma once

#include <string>

#include "evenleg/house/house.h"

namespace evenleg {

// "1100 W at 120 V": its rating as it was given.
[[nodiscard]] std::string rating_text(const Load& load);

// "on", "always on", "off, always off at night": as found and how it may switch, with the name of
// its noncoincident group in brackets.
[[nodiscard]] std::string state_text(const Load& load);

}  // namespace evenleg
