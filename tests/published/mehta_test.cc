// Source: V. K. Mehta, R. Mehta, Principles of Power System, 4th edition, S. Chand 2005, chapters
// 13 and 14. Inputs and results as stored in a published companion of the book (FOSSEE, IIT Bombay,
// Python Textbook Companions); the printed book was not seen.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// Example 13.26, p. 341: three-wire 500/250 V, 50 A and 40 A, 0.1 ohm in each outer, a neutral of
// half the section. Printed: 243.0 V and 248.0 V.
TEST_CASE("Mehta, example 13.26: outers and half-size neutral") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase", volts = 250}
service = {hot_ohms = 0.1, neutral_ohms = 0.2}
load = [{name = "50 A", at = "L1", measured_amps = 50},
        {name = "40 A", at = "L2", measured_amps = 40}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.load_volts("50 A"), "243.0"));
  CHECK(matches_printed(solved.load_volts("40 A"), "248.0"));
  CHECK(matches_printed(solved.neutral_amps(), "10"));
}

// Example 13.27, p. 342: 5 ohms and 6 ohms at 240 V each, 0.1 ohm in every wire; asked are the
// volts at the feeding end. Printed: 245.6 V and 243.2 V; 48, 40 and 8 A. Here they are given and
// the 240 V asked: 245.6 and 243.2 V are exact, so everything printed has to come out.
TEST_CASE("Mehta, example 13.27: unequal halves of the source") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase", volts = [245.6, 243.2]}
service = {hot_ohms = 0.1}
load = [{name = "5 ohm", at = "L1", ohms = 5}, {name = "6 ohm", at = "L2", ohms = 6}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.load_volts("5 ohm"), "240"));
  CHECK(matches_printed(solved.load_volts("6 ohm"), "240"));
  CHECK(matches_printed(solved.leg_amps("L1"), "48"));
  CHECK(matches_printed(solved.leg_amps("L2"), "40"));
  CHECK(matches_printed(solved.neutral_amps(), "8"));
}

// Example 13.28, p. 343: 2 x 250 V, 35 kW and 20 kW, the neutral breaks. Printed: 181.8 V and 318.2
// V.
TEST_CASE("Mehta, example 13.28: open neutral, powers given") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase", volts = 250}
load = [{name = "35 kW", at = "L1", watts = 35000, volts = 250},
        {name = "20 kW", at = "L2", watts = 20000, volts = 250}]
)");
  const SolvedHouse solved = house.neutral_open();
  CHECK(matches_printed(solved.load_volts("35 kW"), "181.8"));
  CHECK(matches_printed(solved.load_volts("20 kW"), "318.2"));
}

// Example 13.31, p. 346: 4 ohms and 6 ohms, 240 V across each while all wires are whole, 0.15 ohm
// in every wire. The feeding end then has 240 + 0.15 x 60 + 0.15 x 20 = 252 V on the 4 ohm side and
// 240 + 0.15 x 40 - 0.15 x 20 = 243 V on the other.
TEST_CASE("Mehta, example 13.31: each of the three wires opened in turn") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase", volts = [252, 243]}
service = {hot_ohms = 0.15}
load = [{name = "4 ohm", at = "L1", ohms = 4}, {name = "6 ohm", at = "L2", ohms = 6}]
)");
  SUBCASE("all whole: 240 V, 60 A, 40 A, 20 A") {
    const SolvedHouse solved = house.intact();
    CHECK(matches_printed(solved.load_volts("4 ohm"), "240"));
    CHECK(matches_printed(solved.load_volts("6 ohm"), "240"));
    CHECK(matches_printed(solved.leg_amps("L1"), "60"));
    CHECK(matches_printed(solved.leg_amps("L2"), "40"));
    CHECK(matches_printed(solved.neutral_amps(), "20"));
  }
  SUBCASE("neutral open: 48.06 A, 192.23 V, 288.35 V") {
    // The companion's output names the loads the wrong way round: by Ohm's law 48.06 A x 4 ohms is
    // 192.23 V.
    const SolvedHouse solved = house.neutral_open();
    CHECK(matches_printed(solved.leg_amps("L1"), "48.06"));
    CHECK(matches_printed(solved.load_volts("4 ohm"), "192.23"));
    CHECK(matches_printed(solved.load_volts("6 ohm"), "288.35"));
  }
  SUBCASE("positive outer open: 38.57 A, 231.43 V") {
    // The 4 ohms hang on the open wire and carry nothing, so they may as well be off.
    const SolvedHouse solved = house.without("4 ohm");
    CHECK(matches_printed(solved.leg_amps("L2"), "38.57"));
    CHECK(matches_printed(solved.load_volts("6 ohm"), "231.43"));
  }
  SUBCASE("negative outer open: 58.6 A, 234.42 V") {
    const SolvedHouse solved = house.without("6 ohm");
    CHECK(matches_printed(solved.leg_amps("L1"), "58.6"));
    CHECK(matches_printed(solved.load_volts("4 ohm"), "234.42"));
  }
}

// Example 14.1, p. 359: a single-phase distributor of 0.2 + j0.1 ohm/km, go and return together;
// 100 A at 0.707 lagging after 200 m, 200 A at 0.8 lagging after 300 m, both power factors taken
// against the far end's volts. Printed: 17.85 V lost. A measured run of a house has no reactance,
// so the network is made by hand: two boxes in one cable, each load's admittance set to what draws
// its current.
TEST_CASE("Mehta, example 14.1: two loads along a line of resistance and reactance") {
  constexpr Complex kOhmsPerKilometre(0.2, 0.1);
  const Complex near_amps = 100.0 * Complex(0.707, -0.707);  // 45 degrees
  const Complex far_amps = 200.0 * Complex(0.8, -0.6);
  Model model;
  model.source = {230};
  model.source_impedance = Matrix::Zero(1, 1);
  model.panels = {{-1, {0}, {}}};
  const RunImpedance to_near{0.2 * kOhmsPerKilometre, 0};
  const RunImpedance to_far{0.1 * kOhmsPerKilometre, 0};
  model.cables = {
      {{{0, 0, 0}}, 0, {{-1, {0}, {}, {}}, {0, {0}, to_near, {0}}, {1, {0}, to_far, {1}}}, {0, 1}}};
  model.loads.resize(2);
  model.loads[0].box = 1;
  model.loads[1].box = 2;
  std::vector<Complex> y = {near_amps / 230.0, far_amps / 230.0};
  for (const auto engine : {solve, solve_sparse}) {
    Solution solved = engine(model, y, std::nullopt);
    for (int round = 0; round < 60; ++round) {  // each leaves about a tenth of the error
      const Complex far_end = solved.load_volts[1] / std::abs(solved.load_volts[1]);
      y = {near_amps * far_end / solved.load_volts[0], far_amps * far_end / solved.load_volts[1]};
      solved = engine(model, y, std::nullopt);
    }
    CHECK(close(std::abs(solved.load_amps[0]), std::abs(near_amps), 1e-9));
    CHECK(matches_printed(std::abs(model.source[0] - solved.load_volts[1]), "17.85"));
  }
}

// Example 14.7, p. 368: 400 V four-wire, the phase taken as 231 V; 10, 8 and 5 kW. Printed: 43.3,
// 34.6, 21.65 A, neutral 18.9 A.
TEST_CASE("Mehta, example 14.7: unequal resistive loads on a wye") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "230/400 wye", volts = 231}
load = [{name = "10 kW", at = "L1", watts = 10000, volts = 231},
        {name = "8 kW", at = "L2", watts = 8000, volts = 231},
        {name = "5 kW", at = "L3", watts = 5000, volts = 231}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "43.3"));
  CHECK(matches_printed(solved.leg_amps("L2"), "34.6"));
  CHECK(matches_printed(solved.leg_amps("L3"), "21.65"));
  CHECK(matches_printed(solved.neutral_amps(), "18.9"));
}

// Example 14.8, p. 369: lamps of 70, 84 and 33 A at unity power factor, then a motor that takes 200
// A at 0.2 lagging from every phase. Printed: neutral 45.64 A with and without it; lines 224.7,
// 232.0 and 209.11 A; lamps 43 010 W, motor 27 713 W.
TEST_CASE("Mehta, example 14.8: a balanced motor leaves the neutral as it was") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "230/400 wye"}
load = [{name = "lamps 1", at = "L1", amps = 70}, {name = "lamps 2", at = "L2", amps = 84},
        {name = "lamps 3", at = "L3", amps = 33},
        {name = "motor 1", at = "L1", amps = 200, power_factor = 0.2},
        {name = "motor 2", at = "L2", amps = 200, power_factor = 0.2},
        {name = "motor 3", at = "L3", amps = 200, power_factor = 0.2}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.neutral_amps(), "45.64"));
  CHECK(matches_printed(solved.leg_amps("L1"), "224.7"));
  CHECK(matches_printed(solved.leg_amps("L3"), "209.11"));
  // 84 + 40 = 124 A and 195.96 A in quadrature: 231.90 A. The printed 232.0 is whole amperes.
  CHECK_FALSE(matches_printed(solved.leg_amps("L2"), "232.0"));
  CHECK(matches_printed(solved.leg_amps("L2"), "232"));
  double lamp_watts = 0;
  double motor_watts = 0;
  for (const char* phase : {"1", "2", "3"}) {
    const std::string lamps = std::string("lamps ") + phase;
    const std::string motor = std::string("motor ") + phase;
    lamp_watts += power(solved.load_phasor(lamps), solved.load_current(lamps)).si().real();
    motor_watts += power(solved.load_phasor(motor), solved.load_current(motor)).si().real();
  }
  CHECK(matches_printed(lamp_watts, "43010"));
  // The book has 400 V between lines for the motor and 230 V to neutral for the lamps, and
  // 400 / sqrt 3 is 230.94 V: 27 713 W there, 27 600 W on 230 V.
  CHECK(matches_printed(motor_watts * 400 / (230 * std::sqrt(3.0)), "27713"));
}

// The same lamps alone.
TEST_CASE("Mehta, example 14.8: the lamps without the motor") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "230/400 wye"}
load = [{name = "lamps 1", at = "L1", amps = 70}, {name = "lamps 2", at = "L2", amps = 84},
        {name = "lamps 3", at = "L3", amps = 33}]
)");
  CHECK(matches_printed(house.intact().neutral_amps(), "45.64"));
}

// Example 14.9, p. 370, first part: 20 kW at unity power factor, 28.75 kVA at 0.866 lagging and
// 28.75 kVA at 0.866 leading, 400/230 V. Printed: 86.96, 125 and 125 A, neutral 129.54 A.
//
// By hand, 0.866 standing for 30 degrees, the phasors are 86.957 at 0, 125 at -150 and 125 at 150
// degrees, whose sum is 86.957 - 216.506 = -129.550 A. With the rounded 86.96 and 0.866 it is
// 86.96 - 216.50 = -129.54 A, as printed.
// The companion's comment calls both lagging; the sum would then be 66.03 A, so one leads.
TEST_CASE("Mehta, example 14.9, first part: lag and lead make the neutral the largest current") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "230/400 wye"}
load = [{name = "R", at = "L1", watts = 20000},
        {name = "Y", at = "L2", va = 28750, power_factor = 0.8660254037844387},
        {name = "B", at = "L3", va = 28750, power_factor = 0.8660254037844387, leading = true}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "86.96"));
  CHECK(matches_printed(solved.leg_amps("L2"), "125"));
  CHECK(matches_printed(solved.leg_amps("L3"), "125"));
  CHECK_FALSE(matches_printed(solved.neutral_amps(), "129.54"));
  CHECK(matches_printed(solved.neutral_amps(), "129.55"));
}

// Second part: nothing on B. Printed: 86.96 A, 125 A, neutral 66.03 A.
TEST_CASE("Mehta, example 14.9, second part: two loads on a wye, one of them reactive") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "230/400 wye"}
load = [{name = "R", at = "L1", watts = 20000},
        {name = "Y", at = "L2", va = 28750, power_factor = 0.8660254037844387}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "86.96"));
  CHECK(matches_printed(solved.leg_amps("L2"), "125"));
  CHECK(matches_printed(solved.neutral_amps(), "66.03"));
}

}  // namespace
}  // namespace evenleg
