// A text without the blanks around it.
#pragma once

#include <string_view>

namespace evenleg {

// Spaces and tabs at both ends are left out. Gives a view of `text`.
[[nodiscard]] constexpr std::string_view trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

}  // namespace evenleg
