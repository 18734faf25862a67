// Readings to distrust, and currents beside the service neutral, in sentences.
#pragma once

#include <string>
#include <vector>

#include "src/diagnose/clues.h"

namespace evenleg {

[[nodiscard]] std::vector<std::string> meter_traps(const Visit& visit);

// What electrode and water-pipe currents say with the main on and off, and which share of the
// neutral's current runs beside the conductor.
[[nodiscard]] std::vector<std::string> beside_the_neutral(const Visit& visit);

}  // namespace evenleg
