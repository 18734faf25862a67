// The audit for people, in plain text: summary, ranking, findings, legs and neutrals as found, each
// place where a neutral can open, the limits with their sources, the cautions.
//
// At most 100 columns. Volts, amperes, three significant digits (base/format.h).
#pragma once

#include <optional>
#include <string>

#include "evenleg/audit/audit.h"

namespace evenleg {

struct AuditTextOptions {
  bool all = false;                     // every row of the ranking and every place in full
  std::optional<std::string> scenario;  // the scenario that stood for the house as found
};

[[nodiscard]] std::string audit_text(const House& house, const Tables& tables, const Audit& audit,
                                     const AuditTextOptions& options = {});

// The first lines alone: title, summary and the first `rows` of the ranking.
[[nodiscard]] std::string audit_head(const House& house, const Tables& tables, const Audit& audit,
                                     int rows);

}  // namespace evenleg
