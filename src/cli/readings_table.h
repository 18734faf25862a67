// The readings of a house as tables of at most 100 columns.
#pragma once

#include <string>

#include "evenleg/house/house.h"

namespace evenleg {

[[nodiscard]] std::string readings_table(const House& house);

}  // namespace evenleg
