#include "evenleg/base/text_table.h"

#include <doctest/doctest.h>

#include <sstream>
#include <string>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

TEST_CASE("text table: words to the left, figures to the right, a rule between") {
  TextTable table({{"Circuit", Align::Left}, {"A", Align::Right}, {"Leg", Align::Left}});
  CHECK(table.empty());
  table.add({"Counter left", "9.17", "L1"});
  table.add({"Küche", "12.5", "L2"});
  CHECK_FALSE(table.empty());
  CHECK(table.text() ==
        "  Circuit          A  Leg\n"
        "  ------------  ----  ---\n"
        "  Counter left  9.17  L1\n"
        "  Küche         12.5  L2\n");
}

TEST_CASE("text table: without rows the heading and its rule remain") {
  const TextTable table({{"Leg", Align::Left}, {"A", Align::Right}});
  CHECK(table.text(0) == "Leg  A\n---  -\n");
}

TEST_CASE("text table: no line ends in a space") {
  TextTable table({{"Circuit", Align::Left}, {"Remark", Align::Left}});
  table.add({"Den", ""});
  CHECK(table.text(0) == "Circuit  Remark\n-------  ------\nDen\n");
}

TEST_CASE("text table: too wide, the widest text column gives way and figures stay whole") {
  const std::string longest(150, 'x');
  TextTable table({{"Finding", Align::Left}, {"Volts", Align::Right}, {"At", Align::Left}});
  table.add({longest, "230.4", "Snug"});
  const std::string text = table.text();
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(columns(line) <= kPageColumns);
  }
  // 100 columns less the indent, two gaps, "230.4" and "Snug": 85, the last of them the ellipsis.
  CHECK(text.find("  " + std::string(84, 'x') + "…  230.4  Snug\n") != std::string::npos);
}

}  // namespace
}  // namespace evenleg
