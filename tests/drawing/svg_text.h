// What the tests of drawings ask of an SVG.
#pragma once

#include <string>
#include <string_view>

namespace evenleg {

[[nodiscard]] inline bool contains(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

[[nodiscard]] inline int occurrences(const std::string& text, std::string_view part) {
  int count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

}  // namespace evenleg
