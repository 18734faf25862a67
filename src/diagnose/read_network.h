// The volts at the points of a house (read_points.h) for given wires and loads.
//
// Dense equations of both potentials and wire currents, so that a wire may have any resistance, none
// and the slightly negative one of a noisy estimate among them:
//   v_up - v - Z i = 0 along each wire,   i - (currents on from there) - (loads) = 0 at its end.
// Units: V, A, Ω, S, RMS phasors against the source's neutral. Sign: i flows away from the source,
// in the neutral too.
#pragma once

#include <vector>

#include "src/diagnose/read_points.h"

namespace evenleg {

struct Draw {
  int point = 0;
  int from = 0;  // wires
  int to = 0;
  Complex siemens{};
};

// [point][wire]
using PerWire = std::vector<std::vector<Complex>>;

struct ReadState {
  PerWire volts;
  PerWire amps;
};

// `source`: volts of each supply leg. `earth_siemens`: from the first panel's neutral back to the
// source's, beside the service neutral.
[[nodiscard]] ReadState solve_points(const std::vector<ReadPoint>& points,
                                     const std::vector<Complex>& source, const PerWire& ohms,
                                     const std::vector<Draw>& draws, double earth_siemens);

}  // namespace evenleg
