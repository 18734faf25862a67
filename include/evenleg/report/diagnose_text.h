// What the readings of a visit say, as text: the conductors, what the readings are consistent with,
// what would follow if a neutral opened, which reading to take next, and the cautions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/diagnose/diagnose.h"
#include "evenleg/house/house.h"
#include "evenleg/report/log_text.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// What a report joins.
struct DiagnosisView {
  const House& house;
  const Tables& tables;
  const Diagnosis& diagnosis;
  // Of the same house, with the excess of the service neutral as its degraded neutral; nullptr
  // where none was made.
  const Audit* audit = nullptr;
  const LogView* log = nullptr;  // nullptr: none was read
  bool all = false;              // every pattern in full, not only the first three
};

// The excess of the service neutral, ohms, where it was told; for AuditOptions.
[[nodiscard]] std::optional<double> measured_neutral_excess(const House& house,
                                                            const Diagnosis& diagnosis);

// What the readings do not tell yet and which fewest would, a paragraph each after an empty line;
// "" for nothing.
[[nodiscard]] std::string missing_readings_text(const Estimation& estimation);

// A neutral of the service or a feeder that stands out, with what the audit says of it.
struct JointHeat {
  std::string place;  // as an audit names it: "service", a panel
  double ohms = 0;    // excess
  double amps = 0;    // the neutral's highest
  double watts = 0;
  bool proven = false;
  int loads_past = 0;  // past what they withstand if it opens
  std::string worst;   // the worst of them, "" when there is none
};
[[nodiscard]] std::vector<JointHeat> joint_heats(const DiagnosisView& view);

[[nodiscard]] std::string diagnose_text(const DiagnosisView& view);

}  // namespace evenleg
