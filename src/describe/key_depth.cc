#include "src/describe/key_depth.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace evenleg {
namespace {

constexpr std::size_t kFence = 3;  // quotes around a string of several lines

std::size_t past(std::string_view text, std::size_t found, std::size_t length) {
  return found == std::string_view::npos ? text.size() : std::min(text.size(), found + length);
}

// Just past the string of several lines whose text starts at `at`.
std::size_t end_of_long_string(std::string_view text, std::size_t at, char quote) {
  while (at < text.size()) {
    if (quote == '"' && text[at] == '\\') {
      at = past(text, at, 2);
    } else if (text.substr(at, kFence) == std::string(kFence, quote)) {
      at += kFence;
      // One or two quotes may stand right before the closing three.
      for (int extra = 0; extra < 2 && at < text.size() && text[at] == quote; ++extra) ++at;
      return at;
    } else {
      ++at;
    }
  }
  return at;
}

// Just past the string that opens at `at`; a string of one line ends at the line's end at the
// latest.
std::size_t end_of_string(std::string_view text, std::size_t at) {
  const char quote = text[at];
  if (text.substr(at, kFence) == std::string(kFence, quote)) {
    return end_of_long_string(text, at + kFence, quote);
  }
  for (++at; at < text.size() && text[at] != quote && text[at] != '\n'; ++at) {
    if (quote == '"' && text[at] == '\\' && at + 1 < text.size() && text[at + 1] != '\n') ++at;
  }
  return past(text, at, 1);
}

Place place_at(std::string_view text, std::size_t at) {
  const std::string_view before = text.substr(0, at);
  const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0
  const auto is_start = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; };
  const auto lines = std::ranges::count(before, '\n');
  const auto characters = std::ranges::count_if(before.substr(line_start), is_start);
  return {static_cast<unsigned>(lines) + 1, static_cast<unsigned>(characters) + 1};
}

bool is_blank(char c) { return c == ' ' || c == '\t'; }

std::size_t past_blanks(std::string_view text, std::size_t at) {
  while (at < text.size() && is_blank(text[at])) ++at;
  return at;
}

bool starts_name(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-' || c == '"' || c == '\'';
}

// Is the '[' at `at` the first of its line? Only then can it open a table's name.
bool opens_line(std::string_view text, std::size_t at) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  while (at > 0 && is_blank(text[at - 1])) --at;
  return at == 0 || text[at - 1] == '\n' || text.substr(0, at) == kByteOrderMark;
}

// Where the name of the table that opens at `at` starts wrongly; nothing where it does not, or
// where the parser itself finds what is wrong.
std::optional<std::size_t> bad_name_start(std::string_view text, std::size_t at) {
  at = past_blanks(text, at + 1);
  if (at < text.size() && text[at] == '[') at = past_blanks(text, at + 1);
  if (at == text.size() || starts_name(text[at]) || text[at] == '[' || text[at] == ']') return {};
  return at;
}

}  // namespace

std::optional<BadKey> bad_key(std::string_view text) {
  constexpr std::string_view kEndsKey = "\n=,[]{}";
  int dots = 0;
  for (std::size_t at = 0; at < text.size();) {
    const char c = text[at];
    if (c == '"' || c == '\'') {
      at = end_of_string(text, at);
      continue;
    }
    if (c == '#') {
      at = std::min(text.size(), text.find('\n', at));
      continue;
    }
    if (c == '[' && opens_line(text, at)) {
      if (const auto bad = bad_name_start(text, at)) {
        return BadKey{place_at(text, *bad), "a table's name cannot start here",
                      "write a name in the brackets, such as [supply] or [[panel]]"};
      }
    }
    if (kEndsKey.find(c) != std::string_view::npos) dots = 0;
    if (c == '.' && ++dots >= kMostKeyParts) {
      return BadKey{place_at(text, at), fmt::format("a key of more than {} parts", kMostKeyParts),
                    "use only the keys of a description"};
    }
    ++at;
  }
  return std::nullopt;
}

}  // namespace evenleg
