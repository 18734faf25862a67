// Resistances from readings that were made from known ones, by the three-wire formula.
#include "evenleg/diagnose/estimate.h"

#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <cmath>

#include "tests/check.h"
#include "tests/diagnose/visit_house.h"

namespace evenleg {
namespace {

struct NamedState {
  const char* name;
  ThreeWires wires;
};

// Seven services: what a fault adds to sound runs of some hundredths of an ohm.
const std::vector<NamedState> kStates{
    {"sound", {121.0, 0.02, 0.02, 0.03}},
    {"loose neutral", {121.0, 0.02, 0.02, 0.33}},
    {"failing neutral", {121.0, 0.02, 0.02, 1.5}},
    {"loose L1", {121.0, 0.40, 0.02, 0.03}},
    {"loose L2", {121.0, 0.02, 0.35, 0.03}},
    {"weak supply", {118.5, 0.25, 0.25, 0.03}},
    {"loose neutral and L1", {122.0, 0.30, 0.02, 0.50}},
};

// As a visit takes them: nothing on, a heater on L1, on L2, both, a range, a range and a heater.
House read_house(const ThreeWires& wires, double noise, Dice& dice) {
  House house = visit_house();
  const std::vector<std::pair<double, double>> amps{{0, 0},       {12.5, 0}, {0, 12.5},
                                                    {12.5, 12.5}, {25, 25},  {37.5, 25}};
  for (const auto& [one, two] : amps) {
    house.readings.push_back(three_wire_reading(wires, one, two, noise, dice));
  }
  return house;
}

void check_within(const ConductorEstimate* conductor, double truth) {
  constexpr double kErrors = 4;
  constexpr double kMostError = 0.030;  // ohms
  REQUIRE(conductor != nullptr);
  CAPTURE(conductor->conductor);
  CHECK(close(conductor->ohms, truth, kErrors * conductor->standard_error));
  CHECK(conductor->standard_error < kMostError);
}

TEST_CASE("seven services, meter noise of 50 mV: within four standard errors, each below 30 mΩ") {
  constexpr double kNoise = 0.05;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    for (const NamedState& state : kStates) {
      CAPTURE(seed);
      CAPTURE(state.name);
      Dice dice(seed);
      House house = read_house(state.wires, kNoise, dice);
      // The neutral is what the meter sees, whatever is described beside it.
      if (seed % 2 == 0) house.service->earth_return_ohms = 25;
      const Estimation all = estimate_of(house);
      REQUIRE(all.sections.size() == 1);
      CHECK(all.missing.empty());
      const SectionEstimate& section = all.sections.front();
      check_within(section.find("L1"), state.wires.r1);
      check_within(section.find("L2"), state.wires.r2);
      check_within(section.find("N"), state.wires.rn);
      CHECK(close(all.source_volts.value_or(0), state.wires.volts,
                  4 * all.source_standard_error.value_or(0)));
    }
  }
}

TEST_CASE("each voltage stands beside what the described runs would show at the same amperes") {
  // Runs of 0.05 ohm each are described; the readings come from a neutral of 0.25 ohm. By hand, with
  // 10 A on L1 alone: read 120 - 0.05 * 10 - 0.25 * 10 = 117 V and 120 + 0.25 * 10 = 122.5 V;
  // expected 120 - 0.05 * 20 = 119 V and 120 + 0.05 * 10 = 120.5 V.
  House house = visit_house();
  house.service->run = {};
  house.service->run.hot_ohms = 0.05;
  Dice dice(1);
  const ThreeWires wires{120, 0.05, 0.05, 0.25};
  for (const auto& [one, two] : {std::pair{0.0, 0.0}, {10.0, 0.0}, {0.0, 10.0}}) {
    house.readings.push_back(three_wire_reading(wires, one, two, 0, dice));
  }
  int seen = 0;
  for (const ReadVolts& volts : estimate_of(house).volts) {
    CHECK(close(volts.fitted, volts.volts, 1e-6));
    if (volts.reading != 1) continue;
    if (volts.key == "l1_n_volts") CHECK(close(volts.expected, 119.0, 1e-3));
    if (volts.key == "l2_n_volts") CHECK(close(volts.expected, 120.5, 1e-3));
    seen += volts.key == "l1_n_volts" || volts.key == "l2_n_volts";
  }
  CHECK(seen == 2);
}

TEST_CASE("exact readings give the resistances back") {
  Dice dice(1);
  for (const NamedState& state : kStates) {
    CAPTURE(state.name);
    const Estimation all = estimate_of(read_house(state.wires, 0, dice));
    const SectionEstimate& section = all.sections.front();
    CHECK(close(section.find("L1")->ohms, state.wires.r1, 1e-5));
    CHECK(close(section.find("L2")->ohms, state.wires.r2, 1e-5));
    CHECK(close(section.find("N")->ohms, state.wires.rn, 1e-5));
    CHECK(close(*all.source_volts, state.wires.volts, 1e-3));
  }
}

// The same readings as a linear system, solved by Eigen's QR: another route to the same least
// squares.
TEST_CASE("the estimates are those of a plain linear least squares") {
  Dice dice(11);
  const House house = read_house(kStates[1].wires, 0.05, dice);
  const auto rows = static_cast<Eigen::Index>(3 * house.readings.size());
  Eigen::MatrixXd a(rows, 4);
  Eigen::VectorXd b(rows);
  Eigen::Index row = 0;
  for (const Reading& reading : house.readings) {
    const double one = *reading.l1_amps;
    const double two = *reading.l2_amps;
    a.row(row) << 1, -one, 0, -(one - two);
    b(row++) = *reading.l1_n_volts;
    a.row(row) << 1, 0, -two, -(two - one);
    b(row++) = *reading.l2_n_volts;
    a.row(row) << 2, -one, -two, 0;
    b(row++) = *reading.l1_l2_volts;
  }
  const Eigen::VectorXd x = a.colPivHouseholderQr().solve(b);
  const Estimation all = estimate_of(house);
  const SectionEstimate& section = all.sections.front();
  // The service's small reactance, which the linear system does not have, turns the volts by less
  // than a hundredth of a degree.
  constexpr double kReactance = 1e-4;  // ohms
  CHECK(close(*all.source_volts, x(0), 1e-3));
  CHECK(close(section.find("L1")->ohms, x(1), kReactance));
  CHECK(close(section.find("L2")->ohms, x(2), kReactance));
  CHECK(close(section.find("N")->ohms, x(3), kReactance));
  // Standard error by the textbook, its residuals joined by two of 0.05 V (src/diagnose/fit.h).
  const double squares = (b - a * x).squaredNorm() + 2 * 0.05 * 0.05;
  const Eigen::MatrixXd inverse = (a.transpose() * a).inverse();
  const double error = std::sqrt(squares / static_cast<double>(rows - 4 + 2) * inverse(3, 3));
  CHECK(close(section.find("N")->standard_error, error, 1e-5));
}

TEST_CASE("what the table expects stands beside it") {
  Dice dice(1);
  const Estimation all = estimate_of(read_house(kStates.front().wires, 0, dice));
  const SectionEstimate& section = all.sections.front();
  CHECK(section.kind == SectionKind::Service);
  CHECK(section.from.empty());
  CHECK(section.to == "Main");
  // NEC chapter 9, table 8 (2023), aluminium, ohms per 1000 ft at 75 °C: 4/0 0.100, 2/0 0.159.
  CHECK(matches_printed(*section.find("L1")->expected_ohms * 10, "0.100"));
  CHECK(matches_printed(*section.find("N")->expected_ohms * 10, "0.159"));
}

TEST_CASE("stated accuracy widens the standard error, never narrows it") {
  Dice dice(3);
  House house = read_house(kStates[1].wires, 0.02, dice);
  const double plain = estimate_of(house).sections.front().find("N")->standard_error;
  for (Reading& reading : house.readings) reading.accuracy_volts = 1;
  const double coarse = estimate_of(house).sections.front().find("N")->standard_error;
  for (Reading& reading : house.readings) reading.accuracy_volts = 0.001;
  const double fine = estimate_of(house).sections.front().find("N")->standard_error;
  CHECK(coarse > 5 * plain);
  CHECK(fine == plain);
}

TEST_CASE("the clamp's gain is part of a resistance's error") {
  Dice dice(4);
  House house = read_house(kStates[2].wires, 0, dice);
  for (Reading& reading : house.readings) reading.amps_accuracy_percent = 3;
  // 3 % as a limit is 1.732 % as a standard deviation, of 1.5 ohms: 26 mΩ; the rest adds little.
  const Estimation all = estimate_of(house);
  const ConductorEstimate& neutral = *all.sections.front().find("N");
  CHECK(close(neutral.standard_error, 0.026, 0.002));
}

TEST_CASE("nothing on and one load: it says which reading would tell the conductors apart") {
  Dice dice(5);
  House house = visit_house();
  house.readings.push_back(three_wire_reading(kStates[1].wires, 0, 0, 0, dice));
  const Estimation none = estimate_of(house);
  CHECK(none.sections.empty());
  REQUIRE(none.missing.size() == 1);
  CHECK(none.missing[0].take == std::vector<std::string>{"at Main with a known load on L1 alone",
                                                         "at Main with a known load on L2 alone"});
  house.readings.push_back(three_wire_reading(kStates[1].wires, 12.5, 0, 0, dice));
  const Estimation one = estimate_of(house);
  REQUIRE(one.sections.size() == 1);
  CHECK(close(one.sections[0].find("N")->ohms, 0.33, 1e-5));
  CHECK(one.sections[0].find("L2") == nullptr);
  REQUIRE(one.missing.size() == 1);
  CHECK(one.missing[0].conductors == std::vector<std::string>{"L2"});
  CHECK(one.missing[0].take.size() == 1);
}

TEST_CASE("what all conductors share beyond their runs does not make one stand out") {
  Dice dice(8);
  // The described run is 0.010 and 0.016 ohm; a longer drop, or a transformer that nobody
  // described.
  for (const ThreeWires& wires :
       {ThreeWires{121, 0.03, 0.03, 0.04}, ThreeWires{121, 0.05, 0.05, 0.05},
        ThreeWires{121, 0.02, 0.025, 0.03}}) {
    const Estimation all = estimate_of(read_house(wires, 0.02, dice));
    for (const ConductorEstimate& one : all.sections[0].conductors) {
      CAPTURE(one.conductor);
      CHECK_FALSE(one.stands_out);
    }
  }
  const Estimation high = estimate_of(read_house({121, 0.05, 0.05, 0.12}, 0.02, dice));
  CHECK(high.sections[0].find("N")->stands_out);
}

// By hand: an outlet 0.08 ohm of hot and 0.1 of neutral from the panel, a service of 0.02 and 0.03.
// With 12 A on it the neutral rises 0.1 x 12 = 1.2 V above ground, line to ground falls by (0.02 +
// 0.08 + 0.03) x 12 = 1.56 V, and line to neutral by 2.76 V.
TEST_CASE("a branch alone: its neutral by volts to ground, its hot as line to ground sees it") {
  House house = visit_house();
  Reading none, loaded;
  none.at = loaded.at = "Den wall";
  none.l1_n_volts = none.l1_ground_volts = 121;
  none.neutral_ground_volts = 0;
  loaded.l1_amps = 12;
  loaded.l1_n_volts = 121 - 2.76;
  loaded.l1_ground_volts = 121 - 1.56;
  loaded.neutral_ground_volts = 1.2;
  house.readings = {none, loaded};
  const Estimation all = estimate_of(house);
  double neutral = 0, ground = 0, loop = 0;
  for (const SectionEstimate& section : all.sections) {
    for (const ConductorEstimate& one : section.conductors) {
      if (one.conductor == "N") neutral = one.ohms;
      if (one.conductor == "L1 to ground") ground = one.ohms;
      if (one.conductor == "L1 and N") loop = one.ohms;
    }
  }
  CHECK(close(neutral, 0.1, 1e-4));
  CHECK(close(ground, 0.13, 1e-4));
  CHECK(close(loop, 0.23, 1e-4));
  REQUIRE(all.missing.size() == 1);
  CHECK(all.missing[0].conductors == std::vector<std::string>{"L1"});
  CHECK(all.missing[0].take.size() == 1);
}

// A clamp on an idle leg is rarely at exactly nothing. By hand, with 12 A on L1 and 0.1 A on L2 an
// unknown R2 of up to 1 ohm turns RN by 0.1 / 11.9 = 0.0084 of it.
TEST_CASE("a little current on the idle leg does not hide the neutral") {
  for (const double idle : {0.0, 0.05, 0.1}) {
    CAPTURE(idle);
    Dice dice(9);
    House house = visit_house();
    const ThreeWires wires{121, 0.02, 0.02, 0.33};
    house.readings.push_back(three_wire_reading(wires, 0.04, 0, 0.02, dice));
    house.readings.push_back(three_wire_reading(wires, 12, idle, 0.02, dice));
    const Estimation all = estimate_of(house);
    REQUIRE(all.sections.size() == 1);
    REQUIRE(all.sections[0].find("N") != nullptr);
    const ConductorEstimate& neutral = *all.sections[0].find("N");
    CHECK(close(neutral.ohms, 0.33, 4 * neutral.standard_error));
    CHECK(neutral.standard_error < 0.03);
    REQUIRE(all.missing.size() == 1);
    CHECK(all.missing[0].conductors == std::vector<std::string>{"L2"});
    CHECK(all.missing[0].take == std::vector<std::string>{"at Main with a known load on L2 alone"});
  }
}

TEST_CASE("without a described run a neutral is held against the hots") {
  Dice dice(6);
  House house = read_house(kStates[1].wires, 0.02, dice);
  house.service.reset();
  const Estimation loose = estimate_of(house);
  CHECK(loose.sections[0].find("N")->stands_out);
  CHECK_FALSE(loose.sections[0].find("N")->expected_ohms.has_value());
  CHECK_FALSE(loose.sections[0].find("L1")->stands_out);
  House sound = read_house(kStates[0].wires, 0.02, dice);
  sound.service.reset();
  const Estimation level = estimate_of(sound);
  for (const ConductorEstimate& one : level.sections[0].conductors) {
    CHECK_FALSE(one.stands_out);
  }
}

// Three phases and two legs of a wye, by hand in phasors: with resistive loads of unlike size the
// neutral carries their phasor sum, and each leg's volts are E less its own drop less the
// neutral's.
TEST_CASE("wyes: resistances come back from readings made in phasors") {
  for (const std::size_t legs : {std::size_t{2}, std::size_t{3}}) {
    CAPTURE(legs);
    House house;
    house.about["name"] = "Wye";
    house.supply.system = legs == 2 ? "120/208 two-leg" : "120/208 wye";
    house.panels.push_back({"Main", 12, {}, {}, {}, {}, {}});
    const double kOhms = 0.04, kNeutral = 0.5, kSource = 121;
    const std::vector<std::vector<double>> amps{{0, 0, 0},  {12, 0, 0}, {0, 10, 0},
                                                {0, 0, 11}, {12, 6, 3}, {9, 9, 9}};
    for (const std::vector<double>& drawn : amps) {
      // Clamped currents in phase with their leg's volts to neutral; a few rounds settle the
      // angles.
      std::vector<Complex> volts, source;
      for (std::size_t leg = 0; leg < legs; ++leg) {
        source.push_back(std::polar(kSource, -2 * std::acos(-1.0) / 3 * static_cast<double>(leg)));
      }
      volts = source;
      for (int round = 0; round < 100; ++round) {
        Complex sum = 0;
        std::vector<Complex> current;
        for (std::size_t leg = 0; leg < legs; ++leg) {
          current.push_back(std::polar(drawn[leg], std::arg(volts[leg])));
          sum += current.back();
        }
        for (std::size_t leg = 0; leg < legs; ++leg) {
          volts[leg] = source[leg] - kOhms * current[leg] - kNeutral * sum;
        }
      }
      Reading reading;
      reading.at = "Main";
      reading.l1_n_volts = std::abs(volts[0]);
      reading.l2_n_volts = std::abs(volts[1]);
      reading.l1_l2_volts = std::abs(volts[0] - volts[1]);
      reading.l1_amps = drawn[0];
      reading.l2_amps = drawn[1];
      if (legs == 3) {
        reading.l3_n_volts = std::abs(volts[2]);
        reading.l3_amps = drawn[2];
      }
      house.readings.push_back(reading);
    }
    const Estimation all = estimate_of(house);
    REQUIRE(all.sections.size() == 1);
    CHECK(close(all.sections[0].find("N")->ohms, kNeutral, 1e-6));
    CHECK(close(all.sections[0].find("L1")->ohms, kOhms, 1e-6));
    CHECK(close(all.sections[0].find("L2")->ohms, kOhms, 1e-6));
    CHECK(close(*all.source_volts, kSource, 1e-6));
  }
}

}  // namespace
}  // namespace evenleg
