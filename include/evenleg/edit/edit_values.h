// A value typed on the command line as the value of a field.
//
// A list is written with commas or by repeating the key ("\," is a comma inside a name, and needs
// no backslash where the key is repeated); shares as "Range=0.4,Towel rail=1".
// A number may be followed by a unit of its key, "20 A" or "1.5 kW" (watts).
#pragma once

#include <string>
#include <vector>

#include "evenleg/house/fields.h"

namespace evenleg {

// `given`: what stood after each use of the key, at least one. Throws: Error(Request).
[[nodiscard]] Value value_from_text(FieldType type, std::string_view key,
                                    const std::vector<std::string>& given,
                                    const std::string& expected);

// "Left, right\, far" in parts without the spaces around them.
[[nodiscard]] std::vector<std::string> split_at_commas(std::string_view text);

}  // namespace evenleg
