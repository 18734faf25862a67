// What a house that is being entered still lacks, apart from what is wrong with it.
//
// A fault of validate() is something missing where the key that it names is not given, or where
// more of it is needed (a multiwire with one circuit): giving it ends the fault. Every other fault
// is an error. While a house is entered, what is missing may stay so; an error is refused.
#pragma once

#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/validate.h"

namespace evenleg {

// Requires: a fault of that house.
[[nodiscard]] bool is_missing(const House& house, const HouseFault& fault);

// What an answer takes for granted because it is not described, as faults are told: runs without a
// conductor count as 0 ohms, circuits without a breaker limit nothing, and the like.
[[nodiscard]] std::vector<HouseFault> taken_for_granted(const House& house);

}  // namespace evenleg
