#include "evenleg/base/markup.h"

#include <cstdint>

#include "evenleg/base/utf8.h"

namespace evenleg {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";   // U+FFFD
constexpr std::string_view kIsolate = "\xE2\x81\xA8";       // U+2068, first strong isolate
constexpr std::string_view kEndOfIsolate = "\xE2\x81\xA9";  // U+2069

bool is_directional_format(std::uint32_t code) {
  return code == 0x061C || code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069);
}

// Line and paragraph separators, noncharacters and what XML 1.0 does not allow (section 2.2).
bool is_unprintable(std::uint32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x2028 || code == 0x2029 ||
         code == 0xFEFF || (code & 0xFFFE) == 0xFFFE;
}

// Blocks of scripts written from right to left, by the ranges that Unicode reserves for them.
bool is_right_to_left(std::uint32_t code) {
  return (code >= 0x0590 && code <= 0x08FF) || (code >= 0xFB1D && code <= 0xFDFF) ||
         (code >= 0xFE70 && code <= 0xFEFE) || (code >= 0x10800 && code <= 0x10FFF) ||
         (code >= 0x1E800 && code <= 0x1EFFF);
}

std::string_view entity(char c) {
  switch (c) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    default:
      return {};
  }
}

}  // namespace

std::string plain_text(std::string_view text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size();) {
    const auto [code, bytes] = first_code_point(text.substr(at));
    if (bytes == 0) {
      plain += kReplacement;
      ++at;
      continue;
    }
    if (code == '\n' || code == '\t' || code == 0x2028 || code == 0x2029) {
      plain += ' ';
    } else if (!is_unprintable(code) && !is_directional_format(code)) {
      plain += text.substr(at, bytes);
    }
    at += bytes;
  }
  return plain;
}

std::string escaped_markup(std::string_view text) {
  const std::string plain = plain_text(text);
  std::string safe;
  bool isolated = false;
  for (std::size_t at = 0; at < plain.size();) {
    const auto [code, bytes] = first_code_point(std::string_view(plain).substr(at));
    const bool right_to_left = is_right_to_left(code);
    if (right_to_left && !isolated) safe += kIsolate;
    if (!right_to_left && isolated && code != ' ') safe += kEndOfIsolate;
    isolated = right_to_left || (isolated && code == ' ');
    const std::string_view as_entity = bytes == 1 ? entity(plain[at]) : std::string_view{};
    if (as_entity.empty()) {
      safe.append(plain, at, bytes);
    } else {
      safe += as_entity;
    }
    at += bytes;
  }
  if (isolated) safe += kEndOfIsolate;
  return safe;
}

}  // namespace evenleg
