#include "tests/network/house_states.h"

#include <fmt/format.h>

#include <cmath>

#include "tests/network/dice.h"

namespace evenleg {
namespace {

// From a joint that has aged to one that all but hangs open, evenly in the exponent.
double random_added_ohms(Dice& dice) {
  constexpr double kTen = 10;
  constexpr double kLeastExponent = -2;
  constexpr double kMostExponent = 4;
  return std::pow(kTen, dice.between(kLeastExponent, kMostExponent));
}

std::vector<bool> random_on(const BuiltHouse& house, Dice& dice) {
  constexpr double kShareOn = 0.6;
  std::vector<bool> on;
  for (std::size_t l = 0; l < house.model.loads.size(); ++l) on.push_back(dice.chance(kShareOn));
  return on;
}

}  // namespace

BuiltHouse built(const House& house, const Tables& tables) {
  BuiltHouse made;
  made.house = house;
  const Vocabulary words = vocabulary(tables);
  made.wiring = wire(house, *find_system(words, house.supply.system));
  made.model = build_model(house, made.wiring, tables);
  made.places = fault_places(house, made.wiring);
  return made;
}

std::vector<HouseState> states_of(const BuiltHouse& house, std::uint64_t seed) {
  Dice dice(seed);
  std::vector<HouseState> states;
  states.push_back({"whole", admittances(house.model, on_as_found(house.model)), std::nullopt});
  for (const Place& place : house.places) {
    states.push_back({place.name + " open", admittances(house.model, random_on(house, dice)),
                      NeutralFault{place, kOpen}});
    const double ohms = random_added_ohms(dice);
    states.push_back({fmt::format("{} with {} ohm added", place.name, ohms),
                      admittances(house.model, random_on(house, dice)), NeutralFault{place, ohms}});
  }
  return states;
}

}  // namespace evenleg
