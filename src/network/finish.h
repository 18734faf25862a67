// Internal to network/solve.h: what both engines work out from the potentials.
#pragma once

#include "evenleg/network/solve.h"

namespace evenleg {

// Requires: panels and boxes are filled. Fills load volts and amperes and the boxes' neutral amperes.
// `drawn`: amperes of each load beside what its admittance takes; empty: none.
void fill_loads(const Model& model, const std::vector<Complex>& load_admittances,
                const std::vector<Complex>& drawn, Solution& solution);

// Divides what returns to the source beside the phases between conductor and earth.
void split_service_neutral(const Model& model, const std::optional<NeutralFault>& fault,
                           Complex returning_amps, Solution& solution);

}  // namespace evenleg
