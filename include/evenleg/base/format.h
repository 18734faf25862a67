// How numbers and lists are written for people: one place, so that every form of a result agrees.
// Three significant digits, but never fewer than the whole part ("1234 A"), a decimal point
// whatever the locale, "-" for a value that is absent, no negative zero, never "nan" or "inf".
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenleg {

// Three significant digits: 0.0312, 1.04, 12.0, 230, 1234. Trailing zeros kept, at most six
// decimals; what is 0 to all of them prints as "0".
[[nodiscard]] std::string figure(double value);
[[nodiscard]] std::string figure(std::optional<double> value);

// `value` with exactly `decimals` digits after the point.
[[nodiscard]] std::string fixed(double value, int decimals);

// 0 where it is less than half a thousandth, half of the last digit of any figure below 1: what
// solvers leave of nothing.
[[nodiscard]] double without_remains(double value);

// Resistances as readings give them: thousandths below 10, figure() from there on.
[[nodiscard]] std::string fitted_ohms(double ohms);

// The shortest text that reads back as the same double; for descriptions and exact output.
[[nodiscard]] std::string exact(double value);

// "1 load", "3 loads". `many`: where it is not `one` with an s.
[[nodiscard]] std::string counted(std::size_t count, std::string_view one,
                                  std::string_view many = {});

// The first letter as a capital, where it is an ASCII one.
[[nodiscard]] std::string capitalised(std::string text);

// "A", "A and B", "A, B and C".
[[nodiscard]] std::string listed(const std::vector<std::string>& names);

// Width of UTF-8 text in terminal columns, one for each code point (no East Asian double width).
[[nodiscard]] int columns(std::string_view text);

// `text` broken at spaces into lines of at most `width` columns.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, int width);

// `text` cut to `width` columns, its last column then "…".
[[nodiscard]] std::string shortened(std::string_view text, int width);

// The name among `known` that is closest to `text` by edit distance, if close enough to suggest.
[[nodiscard]] std::optional<std::string> nearest(std::string_view text,
                                                 const std::vector<std::string>& known);

}  // namespace evenleg
