// How a page names a neutral: by its place's name, with its kind before it where two have one name.
#pragma once

#include <string>
#include <vector>

#include "evenleg/network/places.h"

namespace evenleg {

// As place_named() takes it (audit/neutral.h). `places`: all of the house.
[[nodiscard]] std::string name_to_ask(const Place& place, const std::vector<Place>& places);

}  // namespace evenleg
