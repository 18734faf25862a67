#include "evenleg/base/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

constexpr const char* kAbsent = "-";

bool is_zero(std::string_view digits) {
  return digits.find_first_of("123456789") == std::string_view::npos;
}

bool starts_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, change});
    }
  }
  return row[b.size()];
}

}  // namespace

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return kAbsent;
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (is_zero(text) && text.front() == '-') text.erase(0, 1);
  return text;
}

std::string figure(double value) {
  if (!std::isfinite(value)) return kAbsent;
  constexpr int kDigits = 3;
  constexpr int kMostDecimals = 6;
  if (value == 0) return "0";
  // The exponent of the rounded value, so that 99.96 prints as 100 and not as 100.0.
  const std::string scientific = fmt::format("{:.{}e}", std::abs(value), kDigits - 1);
  const int exponent = std::stoi(scientific.substr(scientific.find('e') + 1));
  std::string text = fixed(value, std::clamp(kDigits - 1 - exponent, 0, kMostDecimals));
  return is_zero(text) ? "0" : text;  // what rounding leaves of 0
}

std::string figure(std::optional<double> value) { return value ? figure(*value) : kAbsent; }

double without_remains(double value) {
  constexpr double kNothing = 0.0005;
  return std::abs(value) < kNothing ? 0.0 : value;
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return text;
}

std::string fitted_ohms(double ohms) {
  constexpr double kLarge = 10;
  constexpr int kDecimals = 3;
  return ohms < kLarge ? fixed(ohms, kDecimals) : figure(ohms);
}

std::string exact(double value) { return fmt::format("{}", value == 0 ? 0.0 : value); }

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  if (count == 1) return fmt::format("1 {}", one);
  return many.empty() ? fmt::format("{} {}s", count, one) : fmt::format("{} {}", count, many);
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

int columns(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), starts_code_point));
}

std::vector<std::string> wrapped(std::string_view text, int width) {
  std::vector<std::string> lines;
  std::string current;
  std::size_t at = 0;
  while (at < text.size()) {
    std::size_t end = text.find(' ', at);
    if (end == std::string_view::npos) end = text.size();
    const std::string_view word = text.substr(at, end - at);
    if (!current.empty() && columns(current) + 1 + columns(word) > width) {
      lines.push_back(current);
      current.clear();
    }
    if (!current.empty() && !word.empty()) current += ' ';
    current += word;
    at = end + 1;
  }
  if (!current.empty() || lines.empty()) lines.push_back(current);
  return lines;
}

std::string shortened(std::string_view text, int width) {
  if (columns(text) <= width) return std::string(text);
  std::string cut;
  int used = 0;
  for (char c : text) {
    if (starts_code_point(c) && ++used >= width) break;
    cut += c;
  }
  return cut + "…";
}

std::optional<std::string> nearest(std::string_view text, const std::vector<std::string>& known) {
  std::optional<std::string> best;
  std::size_t smallest = std::max<std::size_t>(1, text.size() / 3) + 1;
  for (const std::string& name : known) {
    const std::size_t distance = edit_distance(text, name);
    if (distance < smallest) {
      smallest = distance;
      best = name;
    }
  }
  return best;
}

}  // namespace evenleg
