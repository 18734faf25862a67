#include "src/audit/findings.h"

#include <algorithm>

#include "evenleg/audit/credible.h"

namespace evenleg {
namespace {

// The breaker sentences of why_not_credible() are left to find_overloads().
bool is_of_a_breaker(const std::string& reason) {
  return reason.find(" A by nameplate on leg ") != std::string::npos;
}

void find_incredible(const Seen& seen, std::vector<WiringFinding>& findings) {
  for (const std::string& reason : why_not_credible(seen.house, seen.wiring, seen.model)) {
    if (is_of_a_breaker(reason)) continue;
    add_finding(seen, findings, "as found is not credible", FindingSeverity::Note, "as found",
                {reason, "The worst cases leave such states out.",
                 "The entry, or what was on when the house was seen, should be checked."});
  }
}

}  // namespace

std::string_view name_of(FindingSeverity severity) {
  switch (severity) {
    case FindingSeverity::Note:
      return "note";
    case FindingSeverity::Caution:
      return "caution";
    case FindingSeverity::Danger:
      return "danger";
  }
  return "";
}

std::vector<WiringFinding> find_wiring_faults(const Seen& seen) {
  std::vector<WiringFinding> findings;
  find_multiwire_faults(seen, findings);
  find_disconnect_faults(seen, findings);
  find_overloads(seen, findings);
  find_voltage_faults(seen, findings);
  find_supply_faults(seen, findings);
  find_open_neutral_risks(seen, findings);
  find_incredible(seen, findings);
  std::stable_sort(findings.begin(), findings.end(),
                   [](const WiringFinding& a, const WiringFinding& b) {
                     return static_cast<int>(a.severity) > static_cast<int>(b.severity);
                   });
  return findings;
}

}  // namespace evenleg
