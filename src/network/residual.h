// Internal to network/solve.h: how well an answer holds the equations that it came from.
#pragma once

#include "evenleg/network/solve.h"

namespace evenleg {

// Sets the residual, and the status where a solved network's is too large: the largest error in any
// of Kirchhoff's equations, by conductor and by panel, beyond what rounding must leave; volts over
// the source's highest volts, amperes over all that the loads draw. Infinite where a number is none.
// Requires: potentials and amperes of the solution are filled.
void judge_residual(const Model& model, const std::vector<Complex>& load_admittances,
                    const std::optional<NeutralFault>& fault, Solution& solution);

}  // namespace evenleg
