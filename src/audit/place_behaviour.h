// The states of a place whose behaviour an audit tells: as found, and that of its worst load's
// highest volts. States in which no load with a law of its own runs beyond it are left out.
#pragma once

#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/network/model.h"

namespace evenleg {

struct PlaceBehaviour {
  std::vector<StateBehaviour> states;
  int left_out = 0;  // loads with laws in a state that has too many of them to be followed
};

[[nodiscard]] PlaceBehaviour place_behaviour(const House& house, const Model& model,
                                             const Tables& tables,
                                             const std::vector<LoadBehaviour>& behaviours,
                                             const std::vector<bool>& on_as_found,
                                             const OpenNeutral& open);

}  // namespace evenleg
