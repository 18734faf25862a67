// The engine at harmonic orders, by hand.
#include "evenleg/network/harmonics.h"

#include <doctest/doctest.h>

#include "evenleg/units/phasor.h"
#include "tests/check.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-9;

// A panel with one load on each leg, at the panel itself.
struct Bench {
  Model model;
  std::vector<Complex> y;
  std::vector<LoadSpectrum> spectra;

  // `amps`: what each leg's load draws at 120 V, in phase. `run`: the service.
  Bench(const std::vector<double>& angles, const std::vector<double>& amps, RunImpedance run) {
    const auto legs = static_cast<int>(angles.size());
    model.source_impedance = Matrix::Zero(legs, legs);
    model.panels = {{-1, {}, run}};
    for (int leg = 0; leg < legs; ++leg) {
      model.source.push_back(std::polar(120.0, radians(angles[static_cast<std::size_t>(leg)])));
      model.panels[0].legs.push_back(leg);
      model.cables.push_back({{{leg, 0, leg}}, 0, {{-1, {0}, {}, {leg}}}, {leg}});
      LoadModel load;
      load.cable = leg;
      model.loads.push_back(load);
      y.emplace_back(amps[static_cast<std::size_t>(leg)] / 120);
      spectra.emplace_back();
    }
  }

  [[nodiscard]] double neutral(int order) const {
    const HarmonicSolution solved = solve_harmonics(model, y, spectra);
    REQUIRE(solved.status == SolveStatus::Solved);
    for (std::size_t i = 0; i < solved.orders.size(); ++i) {
      if (solved.orders[i] == order) return std::abs(solved.states[i].service_neutral_amps);
    }
    return -1;
  }
};

const std::vector<double> kSplit{0, 180};
const std::vector<double> kTwoLegsOfWye{0, -120};
const std::vector<double> kWye{0, -120, 120};

LoadSpectrum rectifier() { return {{2, 0.1, 0.3}, {3, 0.3, 0.4}, {5, 0.2, -1.0}, {9, 0.05, 2.0}}; }

// Opposite legs: h times half a turn apart, so odd orders of equal loads cancel, even ones add:
// 2 x 10 % of 10 A.
TEST_CASE("harmonics: between opposite legs odd orders of equal loads cancel, even ones add") {
  Bench bench(kSplit, {10, 10}, {});
  bench.spectra = {rectifier(), rectifier()};
  CHECK(close(bench.neutral(1), 0, kExact));
  CHECK(close(bench.neutral(2), 2.0, kExact));
  for (int order : {3, 5, 9}) CHECK(close(bench.neutral(order), 0, kExact));
}

// 10 A against 4 A: what is left is 6 A and its 30, 20 and 5 %; even orders add to 1 + 0.4 A.
TEST_CASE("harmonics: between opposite legs the neutral carries the difference of odd orders") {
  Bench bench(kSplit, {10, 4}, {});
  bench.spectra = {rectifier(), rectifier()};
  CHECK(close(bench.neutral(1), 6, kExact));
  CHECK(close(bench.neutral(2), 1.4, kExact));
  CHECK(close(bench.neutral(3), 1.8, kExact));
  CHECK(close(bench.neutral(5), 1.2, kExact));
  CHECK(close(bench.neutral(9), 0.3, kExact));
}

// A heater has nothing to cancel the other leg's third order with.
TEST_CASE("harmonics: one leg's third order returns at full size beside a linear load") {
  Bench bench(kSplit, {10, 10}, {});
  bench.spectra[1] = rectifier();
  CHECK(close(bench.neutral(1), 0, kExact));
  CHECK(close(bench.neutral(3), 3, kExact));
}

// Triplens of three phases are in phase: 3 x 3 A and 3 x 0.5 A; the 5th is a balanced set.
TEST_CASE("harmonics: in a wye triplens add") {
  Bench bench(kWye, {10, 10, 10}, {});
  bench.spectra = {rectifier(), rectifier(), rectifier()};
  CHECK(close(bench.neutral(1), 0, kExact));
  CHECK(close(bench.neutral(3), 9, kExact));
  CHECK(close(bench.neutral(5), 0, kExact));
  CHECK(close(bench.neutral(9), 1.5, kExact));
}

// Two legs of a wye: |1 + e^(-j120)| = 1 at the fundamental and, five times that angle being 120
// degrees as well, at the fifth order; the third adds.
TEST_CASE("harmonics: two legs of a wye") {
  Bench bench(kTwoLegsOfWye, {10, 10}, {});
  bench.spectra = {rectifier(), rectifier()};
  CHECK(close(bench.neutral(1), 10, kExact));
  CHECK(close(bench.neutral(3), 6, kExact));
  CHECK(close(bench.neutral(5), 2, kExact));
}

// A source of 1 A at the third order beside 9 ohms, behind 1 ohm: 0.9 A come from the supply, 0.1 A
// from the resistor, whose volts are those across the 1 ohm.
TEST_CASE("harmonics: a linear load takes its share") {
  Bench bench({0}, {0}, {1.0, 0.0});
  bench.model.loads.push_back(bench.model.loads[0]);
  bench.model.cables[0].loads.push_back(1);
  bench.model.cables[0].boxes[0].loads.push_back(1);
  const Solution solved = solve_order(bench.model, 3, {1.0 / 9, 0.0}, {0.0, 1.0});
  REQUIRE(solved.status == SolveStatus::Solved);
  CHECK(close(solved.panels[0].hot_amps[0], 0.9, kExact));
  CHECK(close(solved.load_amps[0], -0.1, kExact));
  CHECK(close(solved.load_amps[1], 1.0, kExact));
  CHECK(close(solved.load_volts[0], -0.9, kExact));
}

// 0.2 + j0.1 ohm at the fundamental is 0.2 + j0.5 ohm at the fifth order; a load that alone draws
// 2 A there loses 2 (0.2 + j0.5) V in the hot and 2 (0.3 + j0.1) V in the neutral.
TEST_CASE("harmonics: conductors have R + jhX") {
  Bench bench({0}, {0}, {Complex(0.2, 0.1), Complex(0.3, 0.02)});
  const Solution solved = solve_order(bench.model, 5, {0.0}, {2.0});
  CHECK(close(solved.panels[0].hot[0], -2.0 * Complex(0.2, 0.5), kExact));
  CHECK(close(solved.panels[0].neutral, 2.0 * Complex(0.3, 0.1), kExact));
}

TEST_CASE("harmonics: the transformer's reactance grows with the order, its resistance does not") {
  Bench bench(kSplit, {0, 0}, {});
  bench.model.source_impedance << Complex(0.03, 0.02), Complex(-0.01, -0.01), Complex(-0.01, -0.01),
      Complex(0.03, 0.02);
  const Solution solved = solve_order(bench.model, 3, {0.0, 0.0}, {1.0, 0.0});
  CHECK(close(solved.panels[0].hot[0], -Complex(0.03, 0.06), kExact));
  CHECK(close(solved.panels[0].hot[1], Complex(0.01, 0.03), kExact));
}

// With 0.5 ohm in the neutral its volts at each order are 0.5 times the amperes there.
TEST_CASE("harmonics: a degraded neutral shows its amperes as volts at the panel") {
  Bench bench(kSplit, {10, 4}, {});
  bench.spectra = {rectifier(), rectifier()};
  const NeutralFault fault{{"service", PlaceKind::Service, 0, -1, -1}, 0.5};
  const HarmonicSolution solved = solve_harmonics(bench.model, bench.y, bench.spectra, fault);
  REQUIRE(solved.orders == std::vector<int>{1, 2, 3, 5, 9});
  for (const Solution& state : solved.states) {
    CHECK(close(state.panels[0].neutral, 0.5 * state.service_neutral_amps, kExact));
  }
  // The fundamental divides by Millman: 120 (10 - 4) / 120 over (10 + 4) / 120 + 2 siemens.
  const double shift = 6 / (14.0 / 120 + 2);
  CHECK(close(std::abs(solved.states[0].panels[0].neutral), shift, kExact));
  const double third = 0.3 * (10 * (120 - shift) - 4 * (120 + shift)) / 120;
  CHECK(close(std::abs(solved.states[2].panels[0].neutral), 0.5 * third, kExact));
}

// 3 + j4 ohms at five times the frequency is 3 + j20; 3 - j4 is 3 - j0.8.
TEST_CASE("harmonics: reactance of linear loads") {
  CHECK(close(1.0 / admittance_at(5, 1.0 / Complex(3, 4)), Complex(3, 20), kExact));
  CHECK(close(1.0 / admittance_at(5, 1.0 / Complex(3, -4)), Complex(3, -0.8), kExact));
  CHECK(close(1.0 / admittance_at(7, 1.0 / Complex(3, 0)), Complex(3, 0), kExact));
  CHECK(admittance_at(3, {}) == Complex{});
}

TEST_CASE("harmonics: rms and distortion") {
  CHECK(close(total_rms(std::vector<double>{3, 4}), 5, kExact));
  CHECK(close(*distortion(std::vector<double>{10, 3, 4}), 0.5, kExact));
  CHECK_FALSE(distortion(std::vector<double>{0, 3}).has_value());
  CHECK_FALSE(distortion(std::vector<double>{1e-14, 3}).has_value());
  CHECK_FALSE(distortion(std::vector<double>{0, 0}).has_value());
  CHECK_FALSE(distortion(std::vector<double>{}).has_value());
}

TEST_CASE("harmonics: a load's own spectrum goes before its kind's, and 0 % is none") {
  House house;
  house.loads.resize(4);
  house.loads[0].kind = "cfl";
  house.loads[1].kind = "CFL";
  house.loads[1].spectrum = {{"3", 10}, {"5", 0}};
  house.loads[1].spectrum_degrees = {{"3", 90}};
  house.loads[2].kind = "cfl";
  house.loads[2].spectrum = {{"3", 0}};
  house.loads[3].kind = "cfl";
  house.loads[3].ohms = 100;
  const std::vector<LoadSpectrum> spectra = spectra_of(house, load_tables());
  REQUIRE(spectra[0].size() == 4);
  CHECK(spectra[0][0].order == 3);
  CHECK(close(spectra[0][0].share, 0.8, kExact));
  REQUIRE(spectra[1].size() == 1);
  CHECK(close(spectra[1][0].share, 0.1, kExact));
  CHECK(close(spectra[1][0].angle, radians(90), kExact));
  CHECK(spectra[2].empty());
  CHECK(spectra[3].empty());
}

// Currents of a load that is off are none at any order.
TEST_CASE("harmonics: a load that is off has no orders") {
  Bench bench(kSplit, {10, 0}, {});
  bench.spectra[1] = rectifier();
  CHECK(solve_harmonics(bench.model, bench.y, bench.spectra).orders == std::vector<int>{1});
}

}  // namespace
}  // namespace evenleg
