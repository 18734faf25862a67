// Internal to random_house.h: the loads of a random house.
#pragma once

#include <vector>

#include "evenleg/house/house.h"
#include "tests/network/dice.h"
#include "tests/network/random_house.h"

namespace evenleg {

// `circuit_legs`: the supply legs of each circuit's poles. Adds `options.loads` loads.
void make_loads(House& house, const std::vector<std::vector<int>>& circuit_legs,
                const RandomHouseOptions& options, Dice& dice);

}  // namespace evenleg
