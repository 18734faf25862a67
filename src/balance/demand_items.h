// The loads of a house as a service calculation takes them: parts of one appliance put together,
// each with its category, its volt-amperes and its amperes on the legs and the neutral.
#pragma once

#include <vector>

#include "evenleg/balance/demand.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

// Volts of the calculation between a leg and the neutral, and between two legs: whole volts of the
// nominal supply (NEC 220.5(A)).
[[nodiscard]] double demand_leg_volts(const SupplySystem& system);
[[nodiscard]] double demand_line_volts(const SupplySystem& system);

// In the order of the house, the added ones last. A load whose category nobody gave and whose kind
// is general, between two legs, is a fastened appliance: floor area does not stand for it.
// Requires: a supply of two legs.
[[nodiscard]] std::vector<DemandItem> demand_items(const House& house, const Tables& tables,
                                                   const SupplySystem& system,
                                                   const std::vector<AddedLoad>& added);

}  // namespace evenleg
