// A number typed with its unit, "20 A", "45 ft" or "1.5 kW".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace evenleg {

// The number alone, in the key's own unit and as std::from_chars reads it: "20", "45", "1.5e3".
// Nothing where no unit of that key follows a number; the unit follows from the key's name.
// Capitals and small letters are one but where they tell prefixes apart: "1 mΩ" and "1 MΩ".
[[nodiscard]] std::optional<std::string> number_without_unit(std::string_view key,
                                                             std::string_view text);

}  // namespace evenleg
