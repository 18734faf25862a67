// The end of a visit: the readings of its round and what they do not tell yet.
#pragma once

#include <string>

#include "evenleg/house/house.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// The labels of the first round begin with "visit:"; a diagnosis of it takes every reading of the
// house. One of another round takes those of that round alone.
inline constexpr const char* kFirstRound = "visit";

// "" where there is no reading. Requires: validate() found nothing.
[[nodiscard]] std::string visit_summary(House house, const std::string& round,
                                        const Tables& tables);

}  // namespace evenleg
