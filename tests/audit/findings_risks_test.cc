// What an open neutral meets: earth return, sub-panels, surge protectors, the worst place. The
// figures are the closed form V1 = 120 - VN, V2 = 120 + VN, VN = 120 (G1 - G2) / (G1 + G2 + Ge) on
// ideal 120-0-120 V with 60 W (1/240 S) on L1 and 1500 W (1/9.6 S) on L2.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "tests/audit/one_fault.h"

namespace evenleg {
namespace {

std::string lamp_and_heater(std::string_view more, double lamp_watts = 60,
                            double heater_watts = 1500, std::string_view lamp_kind = "plain",
                            std::string_view panel = "Main") {
  return fmt::format(R"({}
circuit = [{{name = "first", panel = "{}", legs = ["L1"]}},
           {{name = "second", panel = "{}", legs = ["L2"]}}]
load = [{{name = "lamp", at = "first", watts = {}, kind = "{}"}},
        {{name = "heater", at = "second", watts = {}}}]
)",
                     more, panel, panel, lamp_watts, lamp_kind, heater_watts);
}

constexpr std::string_view kMain = "panel = [{name = \"Main\", spaces = 8}]";

DescribedAudit with_earth(std::string_view ohms) {
  return house_with(
      lamp_and_heater(fmt::format("service = {{earth_return_ohms = {}}}\n{}", ohms, kMain)));
}

// 0.1 ohm: 121.19 and 118.81 V, 11.87 A; open: 230.77 and 9.23 V. 25 ohm: 200.90 and 39.10 V, 3.24
// A. 1 ohm: 130.83 and 109.17 V, beyond 127 V, so it would not hide (NEC 250.53(A)(2) for the 25
// ohm).
TEST_CASE("findings: an earth return with the service neutral open, and without it") {
  constexpr std::string_view kHides = "earth return may hide an open neutral";
  constexpr std::string_view kNone = "earth return is no neutral";
  const DescribedAudit low = with_earth("0.1");
  const WiringFinding hides = only_finding(low, kHides);
  CHECK(hides.severity == FindingSeverity::Caution);
  CHECK(says(hides,
             "11.9 A would return through it, with L1 at 121 V and L2 at 119 V; without it, L1 "
             "at 231 V and L2 at 9.23 V"));
  CHECK(lacks(low, kNone));
  const WiringFinding rod = only_finding(with_earth("25"), kNone);
  CHECK(rod.severity == FindingSeverity::Note);
  CHECK(says(rod, "3.24 A would return through it, with L1 at 201 V and L2 at 39.1 V"));
  CHECK(says(rod, "no substitute for a neutral"));
  CHECK(cites(rod, "250.53(A)(2)"));
  CHECK(lacks(with_earth("1"), kHides));
  const DescribedAudit without = house_with(lamp_and_heater(kMain));
  CHECK(lacks(without, kHides));
  CHECK(lacks(without, kNone));
}

TEST_CASE("findings: a sub-panel that hangs on one neutral") {
  constexpr std::string_view kRule = "panel hangs on one feeder neutral";
  constexpr std::string_view kTwo =
      R"(panel = [{name = "Main", spaces = 8}, {name = "Garage", spaces = 4, fed_from = "Main"}])";
  const WiringFinding finding =
      only_finding(house_with(lamp_and_heater(kTwo, 60, 1500, "plain", "Garage")), kRule);
  CHECK(finding.severity == FindingSeverity::Note);
  CHECK(finding.subject == "Garage");
  CHECK(says(finding, "\"lamp\" could see 231 V where it withstands 132 V"));
  CHECK(lacks(house_with(lamp_and_heater(kTwo)), kRule));  // both in the first panel
}

// UL 1449, table 44.1. 60 W is far more than a strip takes, and makes the closed form the same.
TEST_CASE("findings: a surge protector beyond an open neutral") {
  constexpr std::string_view kRule = "surge protector beyond an open neutral";
  const WiringFinding finding =
      only_finding(house_with(lamp_and_heater(kMain, 60, 1500, "surge strip")), kRule);
  CHECK(finding.severity == FindingSeverity::Note);
  CHECK(says(finding, "\"lamp\" could see 231 V with the service neutral open"));
  CHECK(cites(finding, "UL 1449"));
  CHECK(lacks(house_with(lamp_and_heater(kMain, 60, 1500, "plain")), kRule));
  // 60 W against 60 W: 120 V each.
  CHECK(lacks(house_with(lamp_and_heater(kMain, 60, 60, "surge strip")), kRule));
}

// 132 V, 1.1 of 120 V, is reached where the other leg takes 1.22 times as much: 60 W against 70 W
// give 240 · 70/130 = 129.2 V, against 75 W 240 · 75/135 = 133.3 V.
TEST_CASE("findings: the neutral whose opening would do most") {
  constexpr std::string_view kRule = "worst open neutral";
  const WiringFinding finding = only_finding(house_with(lamp_and_heater(kMain, 60, 75)), kRule);
  CHECK(finding.severity == FindingSeverity::Note);
  CHECK(finding.subject == "service");
  CHECK(says(finding, "1 of 2 loads could be past what they withstand"));
  CHECK(says(finding, "\"lamp\" could see 133 V where it withstands 132 V"));
  CHECK(lacks(house_with(lamp_and_heater(kMain, 60, 70)), kRule));
}

// Six blanks of indent and the labels of a report leave less than 96 columns to a line.
TEST_CASE("findings: a long name leaves its sentence within a line") {
  std::string house = lamp_and_heater(kMain);
  const std::string kName = "\"lamp\"";
  house.replace(house.find(kName), kName.size(), "\"" + std::string(112, 'x') + "\"");
  const WiringFinding finding = only_finding(house_with(house), "worst open neutral");
  CHECK(says(finding, "\"" + std::string(39, 'x') + "…\" could see 231 V"));
  for (const std::string& line : wrapped(finding.text, 96)) CHECK(columns(line) <= 96);
}

// 136 V on both legs with nothing wrong: 132 V is past, and an open neutral between loads alike
// moves nothing. 60 W against 1500 W on 272 V: 272 · 240/249.6 = 261.5 V, further past.
TEST_CASE("findings: what is past its limit as found is not counted against an open neutral") {
  const auto at_136 = [](double heater_watts) {
    return house_with(lamp_and_heater(kMain, 60, heater_watts),
                      R"(system = "120/240 split-phase", volts = 136)");
  };
  const DescribedAudit alike = at_136(60);
  CHECK(lacks(alike, "worst open neutral"));
  CHECK(lacks(alike, "load above what it withstands"));
  const WiringFinding legs = only_finding(alike, "leg volts beyond the limits");
  CHECK(legs.severity == FindingSeverity::Danger);
  CHECK(says(legs, "2 loads are past what they withstand"));
  CHECK(says(legs, "\"lamp\" has 136 V and is taken to withstand 132 V"));
  const WiringFinding further = only_finding(at_136(1500), "worst open neutral");
  CHECK(says(further, "1 of 2 loads"));
  CHECK(says(further, "\"lamp\" could see 262 V"));
}

}  // namespace
}  // namespace evenleg
