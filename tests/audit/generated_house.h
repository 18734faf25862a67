// Generated houses of any size: what a dwelling of so many loads looks like, for measuring.
//
// A transformer, a service, a sub-panel for each 120 loads, a multiwire for each 15 loads (half of
// them beyond the sub-panels), two-pole circuits, mixed power factors, breakers that not all loads of a
// circuit can run behind, always-on loads and noncoincident groups across circuits. Sizes and shares are
// judgement. The same seed gives the same house on every machine.
#pragma once

#include <cstdint>

#include "evenleg/house/house.h"

namespace evenleg {

[[nodiscard]] House generated_house(int loads, std::uint64_t seed = 1);

}  // namespace evenleg
