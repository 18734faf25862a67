// Electrical quantities as types, so that volts and amperes cannot be mixed by mistake.
//
// A quantity is made by naming its unit, `volts(120)`, and read back in SI with `.si()`. Sums,
// differences, scaling and comparison stay within one quantity; each physical law below is one line.
// A phasor is the same quantity over complex numbers (see phasor.h for its conventions); a magnitude
// and a phasor do not add.
#pragma once

#include <complex>
#include <concepts>

namespace evenleg {

template <class Unit, class Rep = double>
class Quantity {
 public:
  constexpr Quantity() = default;
  explicit constexpr Quantity(Rep si) : si_(si) {}
  [[nodiscard]] constexpr Rep si() const { return si_; }

  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
  friend constexpr Quantity operator-(Quantity a) { return Quantity(-a.si_); }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity(k * a.si_); }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity(k * a.si_); }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity(a.si_ / k); }
  friend constexpr double operator/(Quantity a, Quantity b) requires std::same_as<Rep, double> {
    return a.si_ / b.si_;
  }
  constexpr Quantity& operator+=(Quantity b) { return si_ += b.si_, *this; }
  friend constexpr bool operator==(Quantity, Quantity) = default;
  friend constexpr auto operator<=>(Quantity a, Quantity b) requires std::same_as<Rep, double> {
    return a.si_ <=> b.si_;
  }

 private:
  Rep si_{};
};

struct VoltUnit;
struct AmpUnit;
struct OhmUnit;
struct WattUnit;
struct VoltAmpUnit;

using Volts = Quantity<VoltUnit>;
using Amps = Quantity<AmpUnit>;
using Ohms = Quantity<OhmUnit>;
using Watts = Quantity<WattUnit>;
using VoltAmps = Quantity<VoltAmpUnit>;
using VoltagePhasor = Quantity<VoltUnit, std::complex<double>>;
using CurrentPhasor = Quantity<AmpUnit, std::complex<double>>;
using Impedance = Quantity<OhmUnit, std::complex<double>>;
using ComplexPower = Quantity<VoltAmpUnit, std::complex<double>>;

[[nodiscard]] constexpr Volts volts(double v) { return Volts(v); }
[[nodiscard]] constexpr Amps amps(double a) { return Amps(a); }
[[nodiscard]] constexpr Ohms ohms(double r) { return Ohms(r); }
[[nodiscard]] constexpr Watts watts(double p) { return Watts(p); }
[[nodiscard]] constexpr VoltAmps volt_amps(double s) { return VoltAmps(s); }

// Ohm's law and power, in magnitudes of an RMS quantity.
[[nodiscard]] constexpr Volts operator*(Amps i, Ohms r) { return volts(i.si() * r.si()); }
[[nodiscard]] constexpr Amps operator/(Volts v, Ohms r) { return amps(v.si() / r.si()); }
[[nodiscard]] constexpr Ohms operator/(Volts v, Amps i) { return ohms(v.si() / i.si()); }
[[nodiscard]] constexpr VoltAmps operator*(Volts v, Amps i) { return volt_amps(v.si() * i.si()); }
[[nodiscard]] constexpr Amps operator/(VoltAmps s, Volts v) { return amps(s.si() / v.si()); }

}  // namespace evenleg
