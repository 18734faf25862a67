// One house that uses every key of the description, as text and, written out by hand beside it, as
// the values that the text means.
#pragma once

#include <string_view>

#include "evenleg/house/house.h"

namespace evenleg {

extern const std::string_view kFullText;
[[nodiscard]] House full_house();

}  // namespace evenleg
