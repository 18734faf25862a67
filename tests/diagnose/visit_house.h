// A small house for readings, and readings written by the formula of the three-wire circuit.
#pragma once

#include <string>
#include <vector>

#include "evenleg/diagnose/estimate.h"
#include "evenleg/house/house.h"
#include "tests/network/dice.h"

namespace evenleg {

// E, and the resistances upstream of the place read.
struct ThreeWires {
  double volts = 121;
  double r1 = 0;
  double r2 = 0;
  double rn = 0;
};

// A described house: 120/240 V, a service of 4/0 aluminium with a 2/0 neutral, 100 ft, without a
// transformer; panel "Main"; a two-wire circuit "Den" with its outlet 40 ft off in 12 Cu; a
// multiwire "Kitchen" with an outlet on each leg ("Left", "Right") 7 ft beyond its shared run.
[[nodiscard]] House visit_house();

// A reading at Main by V1 = E - R1 I1 - RN (I1 - I2) and its twin, V12 = V1 + V2, with clamped
// amperes and normal meter noise of that standard deviation.
[[nodiscard]] Reading three_wire_reading(const ThreeWires& wires, double amps1, double amps2,
                                         double noise_volts, Dice& dice);

// Standard normal, by the sum of twelve uniform numbers (exact mean and variance, tails to 6).
[[nodiscard]] double normal(Dice& dice);

[[nodiscard]] Estimation estimate_of(const House& house);

}  // namespace evenleg
