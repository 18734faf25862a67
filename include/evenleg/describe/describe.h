// The house description (TOML text) in and out. The keys are those of house/fields.h.
//
// Reading reports every fault of the text, each at its file:line:column: broken TOML (the first one
// only, nothing after it can be trusted), unknown keys and tables, wrong types, then whatever
// validate() says of the house. Writing gives a text that reads back as the same house.
#pragma once

#include <string>
#include <string_view>

#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

// `name` stands for the file in messages. Throws: Error(Request) with all faults, in text order.
[[nodiscard]] House read_description(std::string_view text, std::string_view name,
                                     const Vocabulary& vocabulary);

// Empty optional keys and defaults are left out; names with any character are quoted rightly.
[[nodiscard]] std::string write_description(const House& house);

}  // namespace evenleg
