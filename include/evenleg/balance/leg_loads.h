// Leg amperes by the trade's arithmetic, by scenario: nominal volt-amperes over nominal volts of each
// load that runs, times its share, added on each leg that it connects to (house description,
// "Credible states", counts breakers the same way). No phasors: angles and voltage drop play no part.
//
// "as found", always first, is the loads that are on; there a circuit with `measured_amps` counts
// with that reading on each of its poles in place of its loads. In other scenarios it counts by its
// loads, since a reading is of the house as found.
#pragma once

#include <string>
#include <vector>

#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// Amperes of every pole of every circuit in one scenario.
struct CircuitLoads {
  std::string scenario;
  std::vector<std::vector<double>> amps;  // [circuit][pole]
};

struct LegLoads {
  std::string scenario;
  std::vector<double> service;              // A by supply leg
  std::vector<std::vector<double>> panels;  // [panel], A by supply leg, panels fed from it included
};

[[nodiscard]] std::vector<CircuitLoads> circuit_loads(const House& house, const Wiring& wiring,
                                                      const Tables& tables);
// Legs as the wiring has them.
[[nodiscard]] std::vector<LegLoads> leg_loads(const House& house, const Wiring& wiring,
                                              const std::vector<CircuitLoads>& circuits);

// Circuits that count with a reading, in the house's order.
[[nodiscard]] std::vector<int> measured_circuits(const House& house);

// The largest leg less the smallest, of some legs; those that carry nothing count.
[[nodiscard]] double spread(const std::vector<double>& legs);

// How uneven legs are, in percent; 0 where nothing runs. Trades differ:
struct Imbalance {
  double by_mean = 0;     // furthest leg from the mean, over the mean
  double by_largest = 0;  // largest less smallest, over the largest
  double by_half = 0;     // two legs: their difference over half of their sum (Japan: 40 % at most)
};
[[nodiscard]] Imbalance imbalance(const std::vector<double>& legs);

}  // namespace evenleg
