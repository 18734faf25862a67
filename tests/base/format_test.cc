#include "evenleg/base/format.h"

#include <doctest/doctest.h>

#include <charconv>
#include <limits>
#include <string>
#include <vector>

namespace evenleg {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();
constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

TEST_CASE("format: a figure has three significant digits and its whole part") {
  struct Case {
    double value;
    const char* text;
  };
  const Case kCases[] = {
      {0, "0"},
      {0.0312, "0.0312"},
      {0.03125001, "0.0313"},
      {1.04, "1.04"},
      {12, "12.0"},
      {230, "230"},
      {1234, "1234"},
      {1234.6, "1235"},
      {99.94, "99.9"},
      {99.96, "100"},
      {9.996, "10.0"},
      {0.99951, "1.00"},
      {999.6, "1000"},
      {-0.5, "-0.500"},
      {-120.04, "-120"},
      {123456789, "123456789"},
      {0.00123, "0.00123"},
      {0.0000123, "0.000012"},
      {0.0000006, "0.000001"},
      {0.0000004, "0"},
      {-3e-16, "0"},
  };
  for (const Case& c : kCases) {
    CAPTURE(c.value);
    CHECK(figure(c.value) == c.text);
  }
}

TEST_CASE("format: what is absent or not a number is a dash, and zero has no sign") {
  CHECK(figure(std::optional<double>()) == "-");
  CHECK(figure(std::optional<double>(12.0)) == "12.0");
  CHECK(figure(kNan) == "-");
  CHECK(figure(kInf) == "-");
  CHECK(figure(-kInf) == "-");
  CHECK(fixed(kNan, 2) == "-");
  CHECK(figure(-0.0) == "0");
  CHECK(fixed(-0.0, 1) == "0.0");
  CHECK(fixed(-0.04, 1) == "0.0");
  CHECK(exact(-0.0) == "0");
}

TEST_CASE("format: fixed decimals") {
  CHECK(fixed(120, 1) == "120.0");
  CHECK(fixed(119.96, 1) == "120.0");
  CHECK(fixed(1.755, 0) == "2");
  CHECK(fixed(-0.06, 1) == "-0.1");
}

TEST_CASE("format: exact text reads back as the same double and is short") {
  CHECK(exact(0.1) == "0.1");
  CHECK(exact(120) == "120");
  CHECK(exact(-2.5) == "-2.5");
  for (double value : {0.1 + 0.2, 1.0 / 3, 1e-7, 6.02e23, 121.8, -0.0312, 5e-324, 1.7e308}) {
    CAPTURE(value);
    const std::string text = exact(value);
    double back = 0;
    std::from_chars(text.data(), text.data() + text.size(), back);
    CHECK(back == value);
  }
}

TEST_CASE("format: counts") {
  CHECK(counted(0, "load") == "0 loads");
  CHECK(counted(1, "load") == "1 load");
  CHECK(counted(2, "load") == "2 loads");
  CHECK(counted(1, "load is", "loads are") == "1 load is");
  CHECK(counted(2, "load is", "loads are") == "2 loads are");
}

TEST_CASE("format: lists") {
  CHECK(listed({}).empty());
  CHECK(listed({"A"}) == "A");
  CHECK(listed({"A", "B"}) == "A and B");
  CHECK(listed({"A", "B", "C"}) == "A, B and C");
}

TEST_CASE("format: width counts code points") {
  CHECK(columns("") == 0);
  CHECK(columns("120 V") == 5);
  CHECK(columns("2.5 mm² é…") == 10);
}

TEST_CASE("format: wrapped text breaks at spaces and loses no word") {
  CHECK(wrapped("one two three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrapped("one two three", 8) == std::vector<std::string>{"one two", "three"});
  CHECK(wrapped("one  two", 8) == std::vector<std::string>{"one two"});
  CHECK(wrapped("", 8) == std::vector<std::string>{""});
  CHECK(wrapped("a unbreakable b", 5) == std::vector<std::string>{"a", "unbreakable", "b"});
  CHECK(wrapped("é é é", 3) == std::vector<std::string>{"é é", "é"});
}

TEST_CASE("format: shortened text ends in an ellipsis within its width") {
  CHECK(shortened("Kitchen", 7) == "Kitchen");
  CHECK(shortened("Kitchen", 6) == "Kitch…");
  CHECK(shortened("Kitchen", 1) == "…");
  CHECK(shortened("éééé", 3) == "éé…");
}

TEST_CASE("format: the nearest name is suggested only when it is close") {
  const std::vector<std::string> known = {"Kitchen counter", "Kitchen", "Garage"};
  CHECK(nearest("Kitchn", known) == "Kitchen");
  CHECK(nearest("Kitchen countr", known) == "Kitchen counter");
  CHECK(nearest("Garage", known) == "Garage");
  CHECK_FALSE(nearest("Attic fan", known).has_value());
  CHECK_FALSE(nearest("Kitchen", {}).has_value());
}

}  // namespace
}  // namespace evenleg
