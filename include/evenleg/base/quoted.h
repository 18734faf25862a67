// Names of a house as sentences quote them.
#pragma once

#include <string>
#include <string_view>

namespace evenleg {

// A name in quotation marks, cut to 40 columns: what a line of prose can hold.
[[nodiscard]] std::string in_quotes(std::string_view name);

}  // namespace evenleg
