// Source: IEC 60364-5-52:2009, annex E, its example of a four-core cable with 39 A a line, from
// memory: with 40 % of third harmonic the neutral carries 39 x 0.4 x 3 = 46.8 A, with 50 % 58.5 A.
// The 20 % case rates by the line: 39 x 0.2 x 3 = 23.4 A by the same rule.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string_view>

#include "evenleg/audit/audit.h"
#include "evenleg/describe/describe.h"
#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

TEST_CASE("IEC 60364-5-52, annex E: the neutral's third harmonic") {
  struct Row {
    int percent;
    std::string_view neutral;
  };
  const Row kRows[] = {{20, "23.4"}, {40, "46.8"}, {50, "58.5"}};
  const Tables tables = load_tables();
  for (const Row& row : kRows) {
    CAPTURE(row.percent);
    std::string text = std::string(kThreeLegs) + "supply = {system = \"230/400 wye\"}\n";
    for (const char* leg : {"L1", "L2", "L3"}) {
      text += fmt::format(
          "[[load]]\nname = \"load {0}\"\nat = \"{0}\"\namps = 39\n"
          "spectrum = {{ 3 = {1} }}\n",
          leg, row.percent);
    }
    const Audit found = audit(read_description(text, "example", vocabulary(tables)), tables);
    REQUIRE(found.harmonics.has_value());
    CHECK(matches_printed(found.harmonics->neutrals[0].rms, row.neutral));
  }
}

}  // namespace
}  // namespace evenleg
