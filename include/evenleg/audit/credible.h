// The credible states of each cable: which of its loads can be on together.
//
// Loads are on or off; `always on`, `always off` and noncoincident groups are respected, and no
// circuit's loads, added on each of its poles as nominal volt-amperes over nominal volts of their
// connections, exceed its breaker (house description, "Credible states"). A cable touches the rest of
// the house at its panel only, so its states are listed once, depth first, a branch being left as soon
// as a breaker is exceeded.
//
// Loads that are alike (same box, ends, admittance, amperes, switching, group) are interchangeable: of
// several, the first ones are taken on first. `stand_in` names, for each load, the first of its like,
// whose extremes it shares.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/model.h"

namespace evenleg {

struct CableState {
  std::uint64_t on = 0;      // bit i: the i-th load of CableModel::loads
  std::uint32_t groups = 0;  // noncoincident groups in use that other cables have loads of, too
};

struct CableStates {
  std::vector<CableState> states;
  bool complete = true;  // false: more than can be listed; a selection that has each load on
};

struct Credible {
  std::vector<CableStates> cables;
  int shared_groups = 0;      // noncoincident groups with loads on more than one cable
  std::vector<int> stand_in;  // by load
};

[[nodiscard]] Credible credible_states(const House& house, const Model& model);

// Amperes of a load on each pole that it uses, as breakers count it.
[[nodiscard]] double breaker_amps(const LoadModel& load);

// What keeps the house from being in a credible state with the loads that are on, as sentences;
// empty: nothing. `when`: of that state, "as found".
[[nodiscard]] std::vector<std::string> why_not_credible(const House& house, const Wiring& wiring,
                                                        const Model& model,
                                                        std::string_view when = "as found");

}  // namespace evenleg
