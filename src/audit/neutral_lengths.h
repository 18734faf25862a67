// Internal to the wiring rules: a cable's neutral, length by length. A thin length far out is as
// much a part of it as the first.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/audit/findings.h"

namespace evenleg {

struct NeutralLength {
  int box = 0;                // where the length ends
  std::string name;           // `the shared neutral into "Hall"`
  std::vector<int> circuits;  // in House::circuits: those whose hots run beside it
  const Run* run = nullptr;
  const Conductor* conductor = nullptr;  // the neutral's; nullptr where it is not known
  std::optional<double> ampacity;        // A, as a branch conductor
  bool as_the_hots = false;              // of the same conductor as the hots
  double amps = 0;                       // as found
};

[[nodiscard]] std::vector<NeutralLength> neutral_lengths(const Seen& seen, int cable);

// Whether a neutral of this run is of the same conductor as its hots.
[[nodiscard]] bool neutral_is_as_the_hots(const Run& run);

}  // namespace evenleg
