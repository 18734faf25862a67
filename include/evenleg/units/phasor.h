// Phasor conventions, stated once.
//
// A phasor is an RMS value at e^{+jwt}; angles are in radians inside the program and in degrees only
// where a person reads or writes them. The reference angle is that of the source's first leg (0). A
// branch current is positive from its first node to its second; a load's from its first terminal
// through the load to its second. S = V conj(I): inductive (lagging) loads have Im S > 0.
#pragma once

#include <cmath>
#include <numbers>

#include "evenleg/units/quantity.h"

namespace evenleg {

[[nodiscard]] constexpr double radians(double degrees) {
  return degrees * std::numbers::pi / 180;  // 180 degrees are pi radians
}
[[nodiscard]] constexpr double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}

[[nodiscard]] inline VoltagePhasor voltage_phasor(Volts magnitude, double angle_radians) {
  return VoltagePhasor(std::polar(magnitude.si(), angle_radians));
}

[[nodiscard]] inline Volts magnitude(VoltagePhasor v) { return volts(std::abs(v.si())); }
[[nodiscard]] inline Amps magnitude(CurrentPhasor i) { return amps(std::abs(i.si())); }

// S = V conj(I).
[[nodiscard]] inline ComplexPower power(VoltagePhasor v, CurrentPhasor i) {
  return ComplexPower(v.si() * std::conj(i.si()));
}

}  // namespace evenleg
