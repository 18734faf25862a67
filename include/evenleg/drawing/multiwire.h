// A multiwire as a chain of boxes from the panel on, the break marked, with the volts at each
// outlet before and after, and the most that a credible state gives.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/neutral.h"
#include "evenleg/drawing/drawing.h"
#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

// Volts at one pair of an outlet's terminals.
struct OutletChange {
  std::string where;  // as OutletVolts::where
  std::string legs;   // "L1-N"
  double sound = 0;
  double open = 0;
  std::optional<double> worst;  // across a load there while on, neutral open; absent: none can be
  std::optional<double> withstands;  // the least of what its loads withstand, or a plain one would
  bool empty = false;                // nothing is described there
};

// Requires: `place` is in a cable of a multiwire. `changes`: those beyond it.
[[nodiscard]] Drawing draw_multiwire(const House& house, const Wiring& wiring, const Place& place,
                                     const std::vector<OutletChange>& changes);

}  // namespace evenleg
