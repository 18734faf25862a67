// Names as people write them, brought to one form.
#pragma once

#include <string>
#include <string_view>

namespace evenleg {

// An ASCII letter in lower case, any other byte as it is.
[[nodiscard]] constexpr char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

// "12 AWG Cu" -> "12 cu", "250kcmil Al" -> "250 al", "2.5 mm² Cu" -> "2.5 mm2 cu"; empty when it is
// not a size, at most one unit that fits it, and a metal.
[[nodiscard]] std::string plain_conductor_name(std::string_view name);

}  // namespace evenleg
