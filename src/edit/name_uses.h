// Where a house refers to a thing by its name: what a rename follows and what keeps a thing from
// being removed.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

// "load \"Kettle\": at", one for each place that names this thing. A first panel is also named by
// each circuit that names no panel.
[[nodiscard]] std::vector<std::string> uses_of(const House& house, std::string_view kind,
                                               const std::string& name);

void rename_uses(House& house, std::string_view kind, const std::string& from,
                 const std::string& to);

}  // namespace evenleg
