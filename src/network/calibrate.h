// Internal to network/model.h: loads rated by a clamp reading.
#pragma once

#include "evenleg/house/house.h"
#include "evenleg/network/model.h"

namespace evenleg {

// Sets the admittance of each load with `measured_amps` to what draws that current in the house as
// found: V, the volts across it in the intact circuit with every `on` load, solves
//   y = measured_amps · e^{-jφ} / |V|   (lagging φ > 0),
// found by repeated solution; a measured load that is off keeps its connection's nominal volts.
void calibrate_measured(const House& house, Model& model);

}  // namespace evenleg
