// Internal to audit/audit.h: what the description itself shows to be wrong or worth a look.
#pragma once

#include "evenleg/audit/audit.h"
#include "evenleg/network/model.h"

namespace evenleg {

// What the rules look at.
struct Seen {
  const House& house;
  const Wiring& wiring;
  const Model& model;
  const Tables& tables;
  const Solution& as_found;
  const std::vector<NeutralRow>& neutrals;
};

void find_multiwire_faults(const Seen& seen, std::vector<WiringFinding>& findings);
void find_overloads(const Seen& seen, std::vector<WiringFinding>& findings);
void find_voltage_faults(const Seen& seen, std::vector<WiringFinding>& findings);

// All rules, dangers first.
[[nodiscard]] std::vector<WiringFinding> find_wiring_faults(const Seen& seen);

}  // namespace evenleg
