// The comparisons that all other tests lean on: that they can fail, and where.
#include "tests/check.h"

#include <doctest/doctest.h>

#include <string_view>

namespace evenleg {
namespace {

TEST_CASE("check: within half a unit of the last printed digit, and no further") {
  struct Case {
    double value;
    std::string_view printed;
    bool matches;
  };
  const Case kCases[] = {
      {83.3333, "83.33", true},    {83.336, "83.33", false}, {43.25, "43.3", true},
      {43.2499, "43.3", false},    {240.4, "240", true},     {240.6, "240", false},
      {-1.04, "-1.0", true},       {1.0, "-1.0", false},     {0.004, "0.00", true},
      {0.006, "0.00", false},      {0.0, "nothing", false},  {12.0, "12 A", false},
      {std::nan(""), "12", false},
  };
  for (const Case& c : kCases) {
    CAPTURE(c.value);
    CAPTURE(c.printed);
    CHECK(matches_printed(c.value, c.printed).holds == c.matches);
  }
}

TEST_CASE("check: an angle and the same angle a turn further match") {
  const auto at_degrees = [](double angle) { return std::polar(2.0, radians(angle)); };
  CHECK(matches_printed_angle(at_degrees(-120), "240"));
  CHECK(matches_printed_angle(at_degrees(359.8), "0"));
  CHECK_FALSE(matches_printed_angle(at_degrees(-120), "239"));
  CHECK_FALSE(matches_printed_angle(at_degrees(60), "240"));
}

TEST_CASE("check: close is absolute, and nothing is close to what is not a number") {
  CHECK(close(1.0, 1.25, 0.25));
  CHECK_FALSE(close(1.0, 1.26, 0.25));
  CHECK_FALSE(close(std::nan(""), std::nan(""), 1));
  CHECK(close(std::complex<double>(3, 4), std::complex<double>(0, 0), 5));
  CHECK_FALSE(close(std::complex<double>(3, 4), std::complex<double>(0, 0), 4.9));
}

TEST_CASE("check: a comparison says what it compared") {
  CHECK(matches_printed(3.5, "4").said == "3.5 against the printed 4");
  CHECK(close(1.0, 2.5, 0.5).said == "1 against 2.5, to within 0.5");
}

}  // namespace
}  // namespace evenleg
