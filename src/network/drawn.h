// Internal to network/harmonics.h: the sparse engine with current sources beside the admittances.
#pragma once

#include <optional>
#include <vector>

#include "evenleg/network/solve.h"

namespace evenleg {

// `drawn`: amperes that each load draws from its first end to its second whatever its volts; empty:
// none. Requires: no fault removes a conductor while currents are drawn (they could end nowhere).
[[nodiscard]] Solution solve_drawn(const Model& model, const std::vector<Complex>& load_admittances,
                                   const std::vector<Complex>& drawn,
                                   const std::optional<NeutralFault>& fault);

}  // namespace evenleg
