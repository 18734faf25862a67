// A house as a plain list of circuit elements: what is given to engines that are not the program's
// own.
//
// Made from the description and its wiring alone: every conductor of every run is an element of its
// own, whether it has impedance or not, and nothing is merged or reduced. From the program it takes
// only the impedance of a run, the transformer's matrix and the loads' admittances, which other
// tests check.
#pragma once

#include <optional>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/network/linear.h"
#include "evenleg/network/places.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

inline constexpr int kSourceNeutral = 0;  // node of 0 V
inline constexpr int kNoNode = -1;

struct ConductorElement {
  int from = kNoNode;
  int to = kNoNode;
  Complex ohms{};
  bool removed = false;  // an open neutral: no current flows
};

struct LoadElement {
  int from = kNoNode;
  int to = kNoNode;
  Complex siemens{};  // zero: off
  Complex drawn{};    // amperes from `from` to `to` whatever the volts
};

struct PanelNodes {
  std::vector<int> hot;  // by position in WiredPanel::legs
  int neutral = kNoNode;
  std::vector<int> hot_conductor;  // index of the element that feeds each
  int neutral_conductor = -1;
};

struct BoxNodes {
  std::vector<int> hot;  // by hot of the cable; kNoNode where it does not reach
  int neutral = kNoNode;
  int neutral_conductor = -1;  // -1 at the panel end
};

struct CircuitElements {
  int nodes = 1;
  std::vector<Complex> source;  // leg volts behind the transformer, against kSourceNeutral
  Matrix source_impedance;      // terminal volts = source - source_impedance * leg currents
  std::vector<int> terminal;    // node of each leg's terminal
  std::vector<ConductorElement> conductors;
  std::vector<LoadElement> loads;  // in the house's order
  std::vector<PanelNodes> panels;
  std::vector<std::vector<BoxNodes>> boxes;  // [cable][box]
  int earth_return = -1;                     // index of the element, -1: none
};

[[nodiscard]] CircuitElements circuit_elements(const House& house, const Wiring& wiring,
                                               const Tables& tables,
                                               const std::vector<Complex>& load_admittances,
                                               const std::optional<NeutralFault>& fault);

}  // namespace evenleg
