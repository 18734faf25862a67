// Each leg of a panel held to the amperes that its source gives on one leg, scenario by scenario,
// and what to shed where one is over.
//
// The limit is the panel's `breaker_a` (for the first panel the service's, or its own where that is
// less), or any other figure: a generator or an inverter gives about half of its rating on each leg
// of a 120/240 V output, and is limited leg by leg (a 30 A one with 20 A more on one leg than on
// the other gives 4.8 of its 7.2 kVA: 30 A and 10 A at 120 V). Leg amperes are those of
// leg_loads.h.
//
// What to shed: while a leg is over, the load with the most amperes on the leg that is furthest
// over; those that are always on after all others of that leg. That is the fewest loads for one
// leg, not the fewest amperes. A circuit that counts with a clamp reading is shed as a whole.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/balance/leg_loads.h"

namespace evenleg {

struct Shed {
  int load = -1;     // or
  int circuit = -1;  // one that counts with its reading
  int leg = 0;       // supply leg that it is shed for
  double amps = 0;   // that it takes on that leg
  bool always_on = false;
};

struct LegLimit {
  int panel = 0;
  double limit_amps = 0;
  std::string scenario;
  std::vector<double> amps;  // by supply leg
  int leg = 0;               // the one with the most
  double over_amps = 0;      // of that leg; negative: what is left on it
  std::vector<Shed> shed;    // in this order; empty where nothing is over
  std::vector<double> left;  // by supply leg, once these are shed
  bool fits = true;          // false: over even without them
};

struct LimitOptions {
  std::optional<double> amps;  // in place of the breaker of
  int panel = 0;               // this panel
};

// By panel that has a limit, then by scenario, as found first.
[[nodiscard]] std::vector<LegLimit> leg_limits(const House& house, const Wiring& wiring,
                                               const Tables& tables,
                                               const LimitOptions& options = {});

// The limit of a panel; absent where no breaker is described and none is given.
[[nodiscard]] std::optional<double> limit_of(const House& house, int panel,
                                             const LimitOptions& options = {});

}  // namespace evenleg
