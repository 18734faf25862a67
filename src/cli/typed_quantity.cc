#include "src/cli/typed_quantity.h"

#include <algorithm>
#include <charconv>
#include <string>

#include "evenleg/base/trimmed.h"
#include "evenleg/edit/units.h"

namespace evenleg {
namespace {

// A key of that unit.
std::string_view key_of(TypedUnit unit) {
  if (unit == TypedUnit::Volts) return "volts";
  return unit == TypedUnit::Amps ? "amps" : "percent";
}

}  // namespace

std::optional<double> quantity_typed(std::string_view text, TypedUnit unit) {
  std::string typed(trimmed(text));
  const std::size_t end = std::min(typed.find_first_not_of("0123456789.,"), typed.size());
  if (end == 0) return std::nullopt;  // a sign, or no number
  std::replace(typed.begin(), typed.begin() + static_cast<std::ptrdiff_t>(end), ',', '.');
  const auto number =
      end == typed.size() ? std::optional(typed) : number_without_unit(key_of(unit), typed);
  if (!number) return std::nullopt;
  double value = 0;
  const char* last = number->data() + number->size();
  const auto [stop, fault] = std::from_chars(number->data(), last, value);
  if (fault != std::errc() || stop != last) return std::nullopt;
  return value;
}

}  // namespace evenleg
