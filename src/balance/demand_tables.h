// The tables of a service calculation by number of appliances, and percentages by tier.
#pragma once

#include <string>
#include <vector>

#include "evenleg/tables/demand_rules.h"

namespace evenleg {

// `load` counted tier by tier.
[[nodiscard]] double tiered(const DemandRule& rule, double load);
// "3000 at 100 %, 6000 at 35 %".
[[nodiscard]] std::string tiers_text(const DemandRule& rule, double load);

struct CookingDemand {
  double va = 0;
  double outside_va = 0;  // of these, what the table does not cover and is counted in full
  std::string text;       // "1 of 12 kW, column C"
};

// NEC table 220.55 for cooking appliances of these nameplates, in VA taken as W. All are counted by
// column C, notes 1 and 2; where all are of at most 8.75 kW and columns A and B (note 3) give less,
// by these. What is of at most 1.75 kW, or above 27 kW, is outside of the table: in full.
[[nodiscard]] CookingDemand cooking_demand(const DemandRule& rule, const std::vector<double>& vas);

// NEC 220.54: the greater of 5000 VA and the nameplate each, by the table. Percent in `percent`.
[[nodiscard]] double dryer_demand(const DemandRule& rule, const std::vector<double>& vas,
                                  double& percent);

}  // namespace evenleg
