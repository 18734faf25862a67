// Readings as a plain table: comma, semicolon or tab separated text whose headings are the keys of
// the description, in any order ("at" is needed). RFC 4180 quoting; with semicolons a decimal comma
// is understood. Loads that were on stand in one field, a semicolon between them ("\;" inside a
// name). Reading reports every fault at its file:line:column; what was written reads back the same.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

// `name` stands for the file in messages. Throws: Error(Request) with all faults. Whether places
// and loads exist is for validate() to say.
[[nodiscard]] std::vector<Reading> read_readings_csv(std::string_view text, std::string_view name);

// Only the keys that some reading has, and always "at".
[[nodiscard]] std::string write_readings_csv(const std::vector<Reading>& readings);

}  // namespace evenleg
