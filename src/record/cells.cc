#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/record/document.h"

namespace evenleg {

Cell number(double value) {
  if (!std::isfinite(value)) return {};
  const double kept = without_remains(value);
  return {figure(kept), kept};
}

Cell number(const std::optional<double>& value) { return value ? number(*value) : Cell{}; }

Cell with_decimals(double value, int decimals) {
  if (!std::isfinite(value)) return {};
  return {fixed(value, decimals), value};
}

Cell as_given(const std::optional<double>& value) {
  return value ? Cell{exact(*value), *value} : Cell{};
}

Cell as_read(const std::optional<double>& value) {
  if (!value) return {};
  constexpr int kMost = 3;
  constexpr double kStep = 10;
  constexpr double kWhole = 1e-6;  // of a digit, left by the binary form
  int digits = 1;
  for (double scaled = *value * kStep; digits < kMost; ++digits, scaled *= kStep) {
    if (std::abs(scaled - std::round(scaled)) < kWhole) break;
  }
  return {fixed(*value, digits), *value};
}

Cell count(std::size_t value) { return {std::to_string(value), static_cast<double>(value)}; }

}  // namespace evenleg
