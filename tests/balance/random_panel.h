// Random panels for the tests of plans: singles, two-pole circuits, multiwires joined and not, locked
// circuits, tandem breakers, empty spaces, scenarios with shares.
#pragma once

#include <cstdint>
#include <string>

#include "evenleg/house/house.h"

namespace evenleg {

struct RandomPanelOptions {
  std::string system = "120/240 split-phase";
  int spaces = 20;
  int scenarios = 3;      // beside as found
  double empty = 0.1;     // probability of each space to stay empty
  double two_poles = 0.15;
  double multiwire = 0.2;
  double joined = 0.7;    // of each multiwire
  double locked = 0.1;
  double tandem = 0.05;
  double own_protection = 0.2;
};

// The same for the same seed on every machine; valid.
[[nodiscard]] House random_panel(std::uint32_t seed, const RandomPanelOptions& options = {});

}  // namespace evenleg
