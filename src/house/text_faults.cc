#include "src/house/text_faults.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

#include "evenleg/base/format.h"
#include "evenleg/base/utf8.h"

namespace evenleg {
namespace {

bool is_control(std::uint32_t code) { return code < 0x20 || (code >= 0x7F && code < 0xA0); }

std::string with_spaces_for_controls(std::string text) {
  for (char& c : text) {
    if (is_control(static_cast<unsigned char>(c)) && (c & 0x80) == 0) c = ' ';
  }
  return text;
}

constexpr std::string_view kDatePattern = "dddd-dd-dd";
constexpr std::string_view kClockPattern = "dd:dd:dd";

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool fits(std::string_view text, std::string_view pattern) {
  return text.size() == pattern.size() &&
         std::equal(text.begin(), text.end(), pattern.begin(),
                    [](char c, char p) { return p == 'd' ? is_digit(c) : c == p; });
}

int number_at(std::string_view text, std::size_t at, std::size_t digits) {
  constexpr int kTen = 10;
  int value = 0;
  for (std::size_t i = at; i < at + digits; ++i) value = value * kTen + (text[i] - '0');
  return value;
}

bool is_date(std::string_view text) {
  if (!fits(text, kDatePattern)) return false;
  const int year = number_at(text, 0, 4);
  const int month = number_at(text, 5, 2);
  const int day = number_at(text, 8, 2);
  if (month < 1 || month > 12) return false;
  constexpr std::array<int, 12> kDays{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  const int days = kDays[static_cast<std::size_t>(month - 1)] + (leap && month == 2 ? 1 : 0);
  return day >= 1 && day <= days;
}

bool is_offset(std::string_view text) {
  if (text.empty() || text == "Z") return true;
  if (text.substr(1) == "00:00") return false;
  return (text[0] == '+' || text[0] == '-') && fits(text.substr(1), "dd:dd") &&
         number_at(text, 1, 2) < 24 && number_at(text, 4, 2) < 60;
}

bool is_clock(std::string_view text) {
  const std::string_view clock = text.substr(0, kClockPattern.size());
  if (!fits(clock, kClockPattern)) return false;
  if (number_at(clock, 0, 2) > 23 || number_at(clock, 3, 2) > 59 || number_at(clock, 6, 2) > 59) {
    return false;
  }
  std::string_view rest = text.substr(clock.size());
  if (!rest.empty() && rest[0] == '.') {
    constexpr std::size_t kMostDecimals = 9;  // nanoseconds
    std::size_t end = 1;
    while (end < rest.size() && is_digit(rest[end])) ++end;
    if (end == 1 || end > kMostDecimals + 1 || rest[end - 1] == '0') return false;
    rest.remove_prefix(end);
  }
  return is_offset(rest);
}

}  // namespace

std::optional<std::string> text_fault(std::string_view key, std::string_view text,
                                      double most_characters) {
  if (text.empty()) return fmt::format("{} = \"\", and it must not be empty", key);
  const bool prose = most_characters > kMostNameCharacters;
  bool has_control = false;
  for (std::size_t at = 0; at < text.size();) {
    const auto [code, bytes] = first_code_point(text.substr(at));
    if (bytes == 0) return fmt::format("{} is not valid UTF-8 text", key);
    has_control = has_control || (is_control(code) && !(prose && (code == '\n' || code == '\t')));
    at += bytes;
  }
  if (has_control) {
    constexpr int kShown = 60;
    return fmt::format("{} = \"{}\", and control characters are not allowed in it", key,
                       with_spaces_for_controls(shortened(text, kShown)));
  }
  if (const int count = columns(text); count > most_characters) {
    return fmt::format("{} is {} characters long, and at most {} are allowed", key, count,
                       exact(most_characters));
  }
  return std::nullopt;
}

bool is_time(std::string_view text) {
  constexpr std::size_t kDate = kDatePattern.size();
  if (!is_date(text.substr(0, kDate))) return false;
  if (text.size() <= kDate) return true;
  return text[kDate] == 'T' && is_clock(text.substr(kDate + 1));
}

}  // namespace evenleg
