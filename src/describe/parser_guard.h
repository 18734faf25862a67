// A guard before the TOML parser, toml++ 3.3, against texts that it does not handle:
// (1) It nests one table for each part of a dotted key without a limit, so that a key of a million
//     parts exhausts the stack.
// (2) For many letters beyond ASCII its test for white space ends in undefined behaviour. It makes
//     that test outside of strings, where TOML has no such letters; behind a quote in the middle of
//     a word, where TOML has no quotes; and in a string of several lines after a backslash.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "src/describe/place.h"

namespace evenleg {

// The longest key of a description is supply.transformer.kva.
inline constexpr int kMostKeyParts = 8;

struct BadText {
  Place place;
  std::string what;
  std::string remedy;
};

struct Guarded {
  std::optional<BadText> bad;  // the first thing that must not reach the parser
  // Where there is none: the same document, safe to parse. It differs from the text only where a
  // line of a string that a backslash continues starts with a letter beyond ASCII, which is then
  // escaped.
  std::string text;
};

// Strings and comments are seen as TOML 1.0 has them, up to the first error of syntax.
[[nodiscard]] Guarded guarded(std::string_view text);

}  // namespace evenleg
