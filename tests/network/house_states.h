// A random house made ready for the engines, and the states in which tests solve it: whole, with
// each neutral open, and with ohms added in each.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/model.h"
#include "evenleg/network/places.h"
#include "evenleg/tables/tables.h"
#include "tests/network/random_house.h"

namespace evenleg {

struct BuiltHouse {
  House house;
  Wiring wiring;
  Model model;
  std::vector<Place> places;
};

[[nodiscard]] BuiltHouse built(const House& house, const Tables& tables);

struct HouseState {
  std::string what;                       // "whole", "Panel 1 open", "service with 0.7 ohm added"
  std::vector<Complex> load_admittances;  // siemens, zero where off
  std::optional<NeutralFault> fault;
};

// The loads are on as found in the whole house, and on by chance (`seed`) with a fault in it.
[[nodiscard]] std::vector<HouseState> states_of(const BuiltHouse& house, std::uint64_t seed);

}  // namespace evenleg
