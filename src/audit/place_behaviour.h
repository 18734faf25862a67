// The states of a place whose behaviour an audit tells: as found, and that of its worst load's
// highest volts. States in which no load with a law of its own runs beyond it are left out.
#pragma once

#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/network/model.h"

namespace evenleg {

// The work grows with the cube of the loads that are followed, and of all that run where the
// wiring drops much of the volts: beyond so many of either a state is left out.
inline constexpr int kMostFollowed = 150;
inline constexpr int kMostRunning = 800;

struct PlaceBehaviour {
  std::vector<StateBehaviour> states;
  int left_out = 0;  // loads that run in a state that was left out
};

[[nodiscard]] PlaceBehaviour place_behaviour(const House& house, const Model& model,
                                             const Tables& tables,
                                             const std::vector<LoadBehaviour>& behaviours,
                                             const std::vector<bool>& on_as_found,
                                             const OpenNeutral& open);

}  // namespace evenleg
