// How the loads beyond a neutral at fault behave by their own laws, beside the reference of
// constant impedances and never in its place (network/behaviour.h has the method and its limits).
#pragma once

#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/network/behaviour.h"
#include "evenleg/network/places.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct StateBehaviour {
  bool as_found = false;  // else the state that takes `worst_load` highest in the reference
  int worst_load = -1;
  std::vector<int> on;    // every load of the house that is on in it
  BehaviourResult result;
};

// One place, one state: `on` has one entry for each load of the house. With kOpen or added ohms.
// Requires: validate() found nothing; a place of fault_places().
[[nodiscard]] BehaviourResult behaviour_at(const House& house, const Tables& tables,
                                           const NeutralFault& fault,
                                           const std::vector<bool>& on);

// Whether there is something to tell that constant impedances do not show: no balance point holds,
// a load drops out or stalls, or one fails.
[[nodiscard]] bool departs(const BehaviourResult& result);

}  // namespace evenleg
