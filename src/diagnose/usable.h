// Which values a fit may use: not those that no resistance explains.
//
// While nothing is known to draw, no conductor drops any volts, so every value stands in one ratio
// to its nominal, and every neutral-to-ground value at 0. What departs from that by more than
// kUnexplained of nominal shows a load that nobody listed, an open conductor, or a slip; one such
// value would spoil every estimate.
#pragma once

#include <vector>

#include "evenleg/house/wiring.h"
#include "src/diagnose/probes.h"

namespace evenleg {

struct UsableProbes {
  std::vector<Probe> used;
  std::vector<Probe> left_out;
};

[[nodiscard]] UsableProbes usable_probes(const std::vector<Probe>& probes,
                                         const std::vector<Reading>& readings,
                                         const ReadPoints& points, const SupplySystem& system);

// The volts of a probe when the supply is at its nominal value and nothing draws.
[[nodiscard]] double nominal_of(const Probe& probe, const ReadPoints& points,
                                const SupplySystem& system);

}  // namespace evenleg
