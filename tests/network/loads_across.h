// Loads on an ideal supply without wiring, for closed forms: each a circuit of its own on a leg.
#pragma once

#include <string>
#include <vector>

#include "evenleg/network/behaviour.h"
#include "tests/network/house_states.h"

namespace evenleg {

struct LoadAcross {
  std::string leg;   // "L1"
  std::string kind;
  double watts = 0;
  double volts = 120;
};

// Named "A", "B", ... in their order; power factor 1. They all run.
[[nodiscard]] House loads_across(const std::vector<LoadAcross>& loads,
                                 const std::string& system = "120/240 split-phase");

// All loads on, the service neutral open or with `added_ohms`.
[[nodiscard]] BehaviourResult behaviour_of(const House& house, double added_ohms = kOpen);

[[nodiscard]] std::vector<const BalancePoint*> stable_points(const BehaviourResult& result);

}  // namespace evenleg
