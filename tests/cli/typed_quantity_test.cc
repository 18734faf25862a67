#include "src/cli/typed_quantity.h"

#include <doctest/doctest.h>

namespace evenleg {
namespace {

struct Case {
  const char* text;
  TypedUnit unit;
  std::optional<double> value;
};

// What the words mean, by the SI's prefixes.
TEST_CASE("a number is taken with its unit, and only with one of the kind asked for") {
  const Case kCases[] = {
      {"118.9", TypedUnit::Volts, 118.9},          {" 118,9 ", TypedUnit::Volts, 118.9},
      {"118.9 V", TypedUnit::Volts, 118.9},        {"118.9V AC", TypedUnit::Volts, 118.9},
      {"118.9 volts", TypedUnit::Volts, 118.9},    {"350 mV", TypedUnit::Volts, 0.35},
      {"0.12 kV", TypedUnit::Volts, 120},          {"12A", TypedUnit::Amps, 12},
      {"12,1 amps", TypedUnit::Amps, 12.1},        {"40 mA", TypedUnit::Amps, 0.04},
      {"0.7 %", TypedUnit::Percent, 0.7},          {"0", TypedUnit::Volts, 0},
      {"12 A", TypedUnit::Volts, std::nullopt},    {"118.9 V", TypedUnit::Amps, std::nullopt},
      {"0.2 V", TypedUnit::Percent, std::nullopt}, {"3 hp", TypedUnit::Amps, std::nullopt},
      {"12 k", TypedUnit::Volts, std::nullopt},    {"-3", TypedUnit::Volts, std::nullopt},
      {"1,234.5", TypedUnit::Volts, std::nullopt}, {"118.9 121.3", TypedUnit::Volts, std::nullopt},
      {"1e3", TypedUnit::Volts, std::nullopt},     {"nan", TypedUnit::Volts, std::nullopt},
      {"V", TypedUnit::Volts, std::nullopt},       {".", TypedUnit::Volts, std::nullopt},
      {"", TypedUnit::Volts, std::nullopt},
  };
  for (const Case& one : kCases) {
    CAPTURE(one.text);
    CHECK(quantity_typed(one.text, one.unit) == one.value);
  }
}

}  // namespace
}  // namespace evenleg
