// What a page says, for the tests of pages.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <string_view>

namespace evenleg {

inline bool has(const std::string& text, std::string_view part) {
  CAPTURE(text);
  return text.find(part) != std::string::npos;
}

// A sentence, wherever its lines break.
inline bool says(const std::string& text, std::string_view sentence) {
  std::string flat;
  for (const char c : text) {
    const char next = c == '\n' ? ' ' : c;
    if (next != ' ' || flat.empty() || flat.back() != ' ') flat += next;
  }
  return has(flat, sentence);
}

}  // namespace evenleg
