#include "tests/audit/one_fault.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace evenleg {

DescribedAudit house_with(std::string_view own, std::string_view supply) {
  std::string text =
      fmt::format("format = 1\nhouse = {{name = \"One fault\"}}\nsupply = {{{}}}\n", supply);
  int depth = 0;
  for (char c : own) {
    depth += c == '{' ? 1 : (c == '}' ? -1 : 0);
    text += c == '\n' && depth > 0 ? ' ' : c;
  }
  DescribedAudit described = audit_of(text);
  for (const WiringFinding& finding : described.audit.findings) check_words(finding);
  return described;
}

void check_words(const WiringFinding& finding) {
  CAPTURE(finding.text);
  for (std::string_view word :
       {"cause", "safe", "open the panel", "panel cover", "Open the panel"}) {
    CAPTURE(word);
    CHECK_FALSE(says(finding, word));
  }
  CHECK(!finding.observation.empty());
  CHECK(!finding.implication.empty());
  CHECK(!finding.recommendation.empty());
  CHECK(!finding.source.empty());
  CHECK(finding.text ==
        finding.observation + " " + finding.implication + " " + finding.recommendation);
}

WiringFinding only_finding(const DescribedAudit& described, std::string_view rule) {
  const std::vector<WiringFinding> found = described.findings(rule);
  REQUIRE(found.size() == 1);
  return found.front();
}

bool lacks(const DescribedAudit& described, std::string_view rule) {
  return described.findings(rule).empty();
}

bool cites(const WiringFinding& finding, std::string_view words) {
  return finding.source.find(words) != std::string::npos;
}

std::string multiwire(double first_amps, double second_amps, std::string_view leg,
                      std::string_view keys) {
  return fmt::format(R"(
panel = [{{name = "Main", spaces = 4}}]
circuit = [{{name = "first", legs = ["L1"], breaker_a = 20}},
           {{name = "second", legs = ["{}"], breaker_a = 20}}]
multiwire = [{{name = "shared", circuits = ["first", "second"]{}}}]
load = [{{name = "load 1", at = "first", amps = {}}},
        {{name = "load 2", at = "second", amps = {}}}]
)",
                     leg, keys, first_amps, second_amps);
}

}  // namespace evenleg
