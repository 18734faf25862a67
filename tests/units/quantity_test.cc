#include "evenleg/units/quantity.h"

#include <doctest/doctest.h>

#include <cmath>
#include <concepts>
#include <numbers>
#include <type_traits>

#include "evenleg/units/phasor.h"

namespace evenleg {
namespace {

template <class A, class B>
concept Adds = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Subtracts = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept Multiplies = requires(A a, B b) {
  a* b;
};
template <class A, class B>
concept Compares = requires(A a, B b) {
  a == b;
};
template <class A, class B>
concept Orders = requires(A a, B b) {
  a < b;
};

// Sums and comparison stay within one quantity.
static_assert(Adds<Volts, Volts> && Subtracts<Volts, Volts> && Orders<Volts, Volts>);
static_assert(!Adds<Volts, Amps> && !Subtracts<Volts, Amps> && !Compares<Volts, Amps>);
static_assert(!Adds<Ohms, Watts> && !Adds<Watts, VoltAmps>);
static_assert(!Adds<Volts, double> && !Compares<Volts, double>);

// A magnitude and a phasor do not add, and phasors have no order.
static_assert(Adds<VoltagePhasor, VoltagePhasor> && Compares<VoltagePhasor, VoltagePhasor>);
static_assert(!Adds<Volts, VoltagePhasor> && !Adds<VoltagePhasor, Volts>);
static_assert(!Adds<VoltagePhasor, CurrentPhasor> && !Compares<Volts, VoltagePhasor>);
static_assert(!Orders<VoltagePhasor, VoltagePhasor>);

// No quantity comes from a bare number, or goes to one, without its unit being named.
static_assert(!std::is_convertible_v<double, Volts> && !std::is_convertible_v<Volts, double>);
static_assert(!std::is_convertible_v<Volts, VoltagePhasor>);

// Only the laws that are written down multiply.
static_assert(Multiplies<Amps, Ohms> && Multiplies<Volts, Amps>);
static_assert(!Multiplies<Volts, Volts> && !Multiplies<Volts, Ohms>);
static_assert(std::same_as<decltype(amps(1) * ohms(1)), Volts>);
static_assert(std::same_as<decltype(volts(1) / ohms(1)), Amps>);
static_assert(std::same_as<decltype(volts(1) / amps(1)), Ohms>);
static_assert(std::same_as<decltype(volts(1) * amps(1)), VoltAmps>);
static_assert(std::same_as<decltype(volt_amps(1) / volts(1)), Amps>);
static_assert(std::same_as<decltype(volts(1) / volts(1)), double>);

// Trigonometry in double precision on values up to 1200: a few units of rounding.
constexpr double kRounding = 1e-12;

bool near(double a, double b) { return std::abs(a - b) <= kRounding * (1 + std::abs(b)); }

TEST_CASE("quantity: a unit is named going in and SI comes out") {
  CHECK(volts(120).si() == 120);
  CHECK(Volts().si() == 0);
  CHECK(CurrentPhasor().si() == std::complex<double>(0, 0));
}

TEST_CASE("quantity: sums, differences and scaling") {
  CHECK(volts(120) + volts(0.5) == volts(120.5));
  CHECK(volts(120) - volts(240) == volts(-120));
  CHECK(-amps(3) == amps(-3));
  CHECK(2 * ohms(0.25) == ohms(0.5));
  CHECK(ohms(0.25) * 2 == ohms(0.5));
  CHECK(watts(1500) / 2 == watts(750));
  CHECK(volts(132) / volts(120) == 132.0 / 120.0);
  Amps sum;
  sum += amps(12);
  sum += amps(-0.5);
  CHECK(sum == amps(11.5));
}

TEST_CASE("quantity: ordered by value") {
  CHECK(volts(119) < volts(120));
  CHECK(volts(120) >= volts(120));
  CHECK_FALSE(volts(120) > volts(120));
}

// 10 kW at 120 V draws 83.33 A in 1.44 ohm: T. R. Kuphaldt, Lessons In Electric Circuits, vol. II,
// chapter 10, "Single-phase power systems". Printed to 0.01 A.
TEST_CASE("quantity: Ohm's law and power reproduce a textbook circuit") {
  constexpr double kHalfADigit = 0.005;
  CHECK(std::abs((volts(120) / ohms(1.44)).si() - 83.33) <= kHalfADigit);
  CHECK(std::abs((volt_amps(10000) / volts(120)).si() - 83.33) <= kHalfADigit);
  CHECK(near((amps(2.5) * ohms(48)).si(), 120));
  CHECK(near((volts(120) / amps(2.5)).si(), 48));
  CHECK(near((volts(120) * amps(2.5)).si(), 300));
}

TEST_CASE("phasor: degrees for people, radians inside") {
  CHECK(near(radians(180), std::numbers::pi));
  CHECK(near(radians(-120), -2 * std::numbers::pi / 3));
  CHECK(near(degrees(radians(37.5)), 37.5));
}

TEST_CASE("phasor: the second leg of a split phase is opposite, two legs of a wye are not") {
  const VoltagePhasor l1 = voltage_phasor(volts(120), 0);
  CHECK(near(magnitude(l1 - voltage_phasor(volts(120), radians(180))).si(), 240));
  // 120 V times the square root of 3.
  CHECK(near(magnitude(l1 - voltage_phasor(volts(120), radians(-120))).si(), 120 * std::sqrt(3.0)));
}

TEST_CASE("phasor: e^(+jwt), a lagging angle is below the axis") {
  const VoltagePhasor l2 = voltage_phasor(volts(120), radians(-120));
  CHECK(near(l2.si().real(), -60));
  CHECK(l2.si().imag() < 0);
  CHECK(near(magnitude(l2).si(), 120));
  CHECK(near(magnitude(CurrentPhasor({3, -4})).si(), 5));
}

// The 3-4-5 triangle: a current of 10 A with cos 0.8 lagging is 8 - j6 A; at 120 V, S = 960 + j720.
TEST_CASE("phasor: S = V conj(I), so an inductive load takes positive reactive power") {
  const VoltagePhasor v = voltage_phasor(volts(120), 0);
  const ComplexPower lagging = power(v, CurrentPhasor({8, -6}));
  CHECK(near(lagging.si().real(), 960));
  CHECK(near(lagging.si().imag(), 720));
  CHECK(near(power(v, CurrentPhasor({8, 6})).si().imag(), -720));
}

TEST_CASE("phasor: power does not depend on the reference angle") {
  const std::complex<double> turn = std::polar(1.0, radians(73));
  const ComplexPower turned =
      power(VoltagePhasor(120.0 * turn), CurrentPhasor(std::complex<double>(8, -6) * turn));
  CHECK(near(turned.si().real(), 960));
  CHECK(near(turned.si().imag(), 720));
}

}  // namespace
}  // namespace evenleg
