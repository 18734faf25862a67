// A house as the search for plans sees it: which circuits may change leg, by themselves or with
// those that share their neutral, and the room that each panel has.
#pragma once

#include <string>
#include <vector>

#include "evenleg/balance/balance.h"
#include "src/balance/panel_room.h"

namespace evenleg {

// One option of a unit in terms of the house: the leg of each of its circuits' first poles, as
// positions on the panel's bus.
struct UnitLegs {
  std::vector<int> legs;  // by circuit of the unit
  bool joined = false;    // one above the other
};

// Circuits that are decided on together.
struct HouseUnit {
  int panel = 0;
  std::vector<int> circuits;
  bool is_pair = false;  // one circuit of two poles
  std::vector<UnitLegs> options{};  // as those of the SpreadUnit
  bool joined_as_found = false;
  int own_space = -1;              // of the first, where they sit one above the other
};

// A two-pole circuit that keeps its legs but may slide.
struct SlidingPair {
  int panel = 0;
  int circuit = 0;
  int start = -1;  // leg of its first row; -1: any, both poles always carry the same
};

struct HouseUnits {
  SpreadProblem problem;
  std::vector<HouseUnit> units;      // as problem.units
  std::vector<SlidingPair> sliding;
  std::vector<PanelRoom> rooms;      // by panel
  std::vector<std::size_t> seats;    // by panel: where its part of Seats begins
  std::vector<FixedCircuit> fixed;
};

// `problem.buildable` refers to the result, which must stay where it is.
void list_units(const House& house, const Wiring& wiring,
                const std::vector<CircuitLoads>& loads, bool keep_spares, HouseUnits& result);

}  // namespace evenleg
