// A guard before the TOML parser (toml++ 3.3), against two kinds of key that it does not survive.
// It nests one table for each part of a dotted key without a limit, so that a key of a million
// parts exhausts the stack; and it asserts where a table's name does not start as a name can.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "src/describe/place.h"

namespace evenleg {

// The longest key of a description is supply.transformer.kva.
inline constexpr int kMostKeyParts = 8;

struct BadKey {
  Place place;
  std::string what;
  std::string remedy;
};

// The first such key; nothing when there is none. Up to the first error of syntax, strings and
// comments are seen as TOML 1.0 has them, so that their text is never taken for a key.
[[nodiscard]] std::optional<BadKey> bad_key(std::string_view text);

}  // namespace evenleg
