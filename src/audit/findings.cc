#include "src/audit/findings.h"

#include <algorithm>

#include "evenleg/audit/credible.h"

namespace evenleg {

std::string_view name_of(FindingSeverity severity) {
  switch (severity) {
    case FindingSeverity::Note: return "note";
    case FindingSeverity::Caution: return "caution";
    case FindingSeverity::Danger: return "danger";
  }
  return "";
}

std::vector<WiringFinding> find_wiring_faults(const Seen& seen) {
  std::vector<WiringFinding> findings;
  find_multiwire_faults(seen, findings);
  find_overloads(seen, findings);
  find_voltage_faults(seen, findings);
  for (const std::string& reason : why_not_credible(seen.house, seen.wiring, seen.model)) {
    findings.push_back({"as found is not credible", FindingSeverity::Note, "as found",
                        reason + " The worst cases leave such states out.", ""});
  }
  std::stable_sort(findings.begin(), findings.end(),
                   [](const WiringFinding& a, const WiringFinding& b) {
                     return static_cast<int>(a.severity) > static_cast<int>(b.severity);
                   });
  return findings;
}

}  // namespace evenleg
