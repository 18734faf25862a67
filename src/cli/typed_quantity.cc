#include "src/cli/typed_quantity.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>

namespace evenleg {
namespace {

struct Spelling {
  TypedUnit unit;
  std::string_view text;  // in small letters
  double times = 1;
  double over = 1;  // rather than a factor of 0.001, which is no exact double
};

constexpr double kThousand = 1000;

constexpr Spelling kSpellings[] = {
    {TypedUnit::Volts, "v"},
    {TypedUnit::Volts, "vac"},
    {TypedUnit::Volts, "v ac"},
    {TypedUnit::Volts, "volt"},
    {TypedUnit::Volts, "volts"},
    {TypedUnit::Volts, "mv", 1, kThousand},
    {TypedUnit::Volts, "millivolts", 1, kThousand},
    {TypedUnit::Volts, "kv", kThousand},
    {TypedUnit::Amps, "a"},
    {TypedUnit::Amps, "aac"},
    {TypedUnit::Amps, "a ac"},
    {TypedUnit::Amps, "amp"},
    {TypedUnit::Amps, "amps"},
    {TypedUnit::Amps, "ampere"},
    {TypedUnit::Amps, "amperes"},
    {TypedUnit::Amps, "ma", 1, kThousand},
    {TypedUnit::Amps, "milliamps", 1, kThousand},
    {TypedUnit::Percent, "%"},
    {TypedUnit::Percent, "percent"},
};

std::string_view trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

std::string lower(std::string_view text) {
  std::string small(text);
  for (char& c : small) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return small;
}

}  // namespace

std::optional<double> quantity_typed(std::string_view text, TypedUnit unit) {
  text = trimmed(text);
  const std::size_t end = std::min(text.find_first_not_of("0123456789.,"), text.size());
  std::string digits(text.substr(0, end));
  std::replace(digits.begin(), digits.end(), ',', '.');
  double value = 0;
  const char* last = digits.data() + digits.size();
  const auto [stop, fault] = std::from_chars(digits.data(), last, value);
  if (digits.empty() || fault != std::errc() || stop != last) return std::nullopt;
  const std::string spelt = lower(trimmed(text.substr(end)));
  if (spelt.empty()) return value;
  for (const Spelling& one : kSpellings) {
    if (one.unit == unit && one.text == spelt) return value * one.times / one.over;
  }
  return std::nullopt;
}

}  // namespace evenleg
