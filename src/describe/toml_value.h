// From the values of TOML to those of the field lists.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>

#include "evenleg/house/fields.h"
#include "src/describe/place.h"

namespace evenleg {

[[nodiscard]] Place place_of(const toml::source_region& source);

// The value that a field of this type takes from `node`; nothing where the node is of another type.
// A whole number does for a number.
[[nodiscard]] std::optional<Value> value_of(const toml::node& node, FieldType type);

// The text of any single value, as [house] and [visit] take them; nothing for a list or a table.
[[nodiscard]] std::optional<std::string> text_of(const toml::node& node);

// A value as a message quotes it, cut to a readable length.
[[nodiscard]] std::string shown(const toml::node& node);

}  // namespace evenleg
