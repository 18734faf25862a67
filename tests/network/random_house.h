// Random houses for tests: valid ones, small, with every construction that the engine knows.
//
// The same seed and options give the same house on every machine. A test that uses one captures the
// seed, so that a failure names the house: `CAPTURE(seed)`.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

// The six supply systems of the house description.
[[nodiscard]] const std::vector<std::string>& every_supply_system();

struct RandomHouseOptions {
  int loads = 8;
  int most_sub_panels = 2;
  std::optional<std::string> system;  // any of the six when absent
  // Probabilities, from 0 to 1.
  double transformer = 0.5;
  double service_run = 0.85;         // otherwise the source is at the panel's terminals
  double earth_return = 0.4;         // of a service
  double equal_source_volts = 0.7;   // otherwise each leg has its own
  double multiwire = 0.6;            // for each two or three circuits
  double without_resistance = 0.25;  // of each run
  double two_poles = 0.3;            // of each circuit whose panel has two legs or more
  double leading = 0.15;             // of each load that is no resistance
  double measured = 0.1;             // of each load
  double off = 0.25;                 // of each load, as found
  double switching = 0.2;            // always on or always off, of each load
  double noncoincident = 0.2;        // of each load: in one of two groups
  double breaker = 0.7;              // of each circuit
};

[[nodiscard]] House random_house(std::uint64_t seed, const RandomHouseOptions& options = {});

}  // namespace evenleg
