// A load as `demand --add` takes it: "EV charger=9600 W".
#pragma once

#include <string_view>

#include "evenleg/balance/demand.h"

namespace evenleg {

// The name is a category of load or a kind of load, in whatever case; W, VA, kW, kVA, or A between
// the legs. Throws: Error(Request) for anything else.
[[nodiscard]] AddedLoad added_load(std::string_view text, const House& house, const Tables& tables);

}  // namespace evenleg
