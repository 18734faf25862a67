// What `evenleg show` tells of a house: its panels, multiwires, loads and what was noted on site,
// as text or as JSON.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

// Requires: wiring of that house.
[[nodiscard]] std::string schedule_text(const House& house, const Wiring& wiring);
[[nodiscard]] nlohmann::ordered_json schedule_json(const House& house, const Wiring& wiring);

// The part of the text about loads; "" where there are none.
[[nodiscard]] std::string loads_text(const House& house, const Wiring& wiring);

// The names of a cable's legs in the order of its hots, and whether two hots are on one leg.
struct SharedLegs {
  std::vector<std::string> legs;
  bool same_leg = false;
};
[[nodiscard]] SharedLegs shared_legs(const Wiring& wiring, const Cable& cable);

}  // namespace evenleg
