// How tests compare numbers, written once.
//
// matches_printed(value, "83.33"): within half a unit of the last digit that the source prints, the
// digits being those of the text, so that the tolerance cannot be chosen. close(a, b, within): an
// absolute bound that the caller has to name. Both say on failure what they compared.
#pragma once

#include <charconv>
#include <cmath>
#include <complex>
#include <ostream>
#include <string>
#include <string_view>

#include "evenleg/units/phasor.h"

namespace evenleg {

// True or false, and what was compared.
struct Comparison {
  bool holds = false;
  std::string said;

  explicit operator bool() const { return holds; }
  friend std::ostream& operator<<(std::ostream& out, const Comparison& c) { return out << c.said; }
};

inline std::string shown(double value) {
  constexpr std::size_t kRoom = 40;
  char text[kRoom];
  const auto end = std::to_chars(text, text + kRoom, value).ptr;
  return {text, end};
}

// One unit of the last digit of a decimal number: 0.01 for "83.33", 1 for "35".
inline double last_digit(std::string_view printed) {
  const std::size_t point = printed.find('.');
  if (point == std::string_view::npos) return 1;
  constexpr double kTen = 10;
  return std::pow(kTen, -static_cast<double>(printed.size() - point - 1));
}

// The number that a text spells; not a number, which matches nothing, when it spells none.
inline double number(std::string_view printed) {
  double value = std::nan("");
  const auto [end, fault] = std::from_chars(printed.data(), printed.data() + printed.size(), value);
  const bool whole = fault == std::errc() && end == printed.data() + printed.size();
  return whole ? value : std::nan("");
}

[[nodiscard]] inline Comparison close(double a, double b, double within) {
  return {std::abs(a - b) <= within,
          shown(a) + " against " + shown(b) + ", to within " + shown(within)};
}

[[nodiscard]] inline Comparison close(std::complex<double> a, std::complex<double> b,
                                      double within) {
  const auto text = [](std::complex<double> z) {
    return "(" + shown(z.real()) + ", " + shown(z.imag()) + ")";
  };
  return {std::abs(a - b) <= within,
          text(a) + " against " + text(b) + ", to within " + shown(within)};
}

[[nodiscard]] inline Comparison matches_printed(double value, std::string_view printed) {
  // A value that lies on the half unit in decimals need not in binary; this much is not a digit.
  constexpr double kBinaryRounding = 1e-12;
  const double half = last_digit(printed) / 2;
  const double expected = number(printed);
  const bool holds = std::abs(value - expected) <= half + kBinaryRounding * std::abs(expected);
  return {holds, shown(value) + " against the printed " + std::string(printed)};
}

template <class Unit>
[[nodiscard]] Comparison matches_printed(Quantity<Unit> value, std::string_view printed) {
  return matches_printed(value.si(), printed);
}

// Degrees, where 359 and -1 are the same angle.
[[nodiscard]] inline Comparison matches_printed_angle(std::complex<double> phasor,
                                                      std::string_view printed) {
  constexpr double kTurn = 360;
  const double off = degrees(std::arg(phasor)) - number(printed);
  return matches_printed(number(printed) + std::remainder(off, kTurn), printed);
}

template <class Unit>
[[nodiscard]] Comparison matches_printed_angle(Quantity<Unit, std::complex<double>> phasor,
                                               std::string_view printed) {
  return matches_printed_angle(phasor.si(), printed);
}

}  // namespace evenleg
