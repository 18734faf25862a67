// A number typed with its unit, "20 A", "45 ft" or "1.5 kW".
#pragma once

#include <string>
#include <string_view>

namespace evenleg {

// The number alone, in the key's own unit and as std::from_chars reads it: "20", "45", "1.5e3". The
// unit follows from the key's name; a text with any other unit, or with none, comes back as it is.
[[nodiscard]] std::string number_without_unit(std::string_view key, std::string_view text);

}  // namespace evenleg
