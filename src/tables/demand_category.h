// A category of load in a data file, held to the ones that the description knows.
#pragma once

#include <string>
#include <string_view>

#include "src/tables/data_file.h"

namespace evenleg {

[[nodiscard]] std::string demand_category_in(Row& row, std::string_view key);

}  // namespace evenleg
