// A house described in a test, and its audit.
#pragma once

#include <string_view>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/house/house.h"

namespace evenleg {

struct DescribedAudit {
  House house;
  Audit audit;

  [[nodiscard]] int load(std::string_view name) const;
  // Throws when the neutral of that place is none that the audit opens.
  [[nodiscard]] const OpenNeutral& open(std::string_view place) const;
  [[nodiscard]] const LoadExtremes& extremes(std::string_view place, std::string_view load) const;
  [[nodiscard]] const NeutralRow& neutral(std::string_view place) const;
  // The findings of one rule, in the audit's order.
  [[nodiscard]] std::vector<WiringFinding> findings(std::string_view rule) const;
};

// Throws: Error when `text` is no valid description.
[[nodiscard]] DescribedAudit audit_of(std::string_view text);

[[nodiscard]] bool says(const WiringFinding& finding, std::string_view words);

}  // namespace evenleg
