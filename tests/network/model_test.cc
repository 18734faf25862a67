// From a described house to impedances, against the rules of the house description worked out by
// hand.
#include "evenleg/network/model.h"

#include <doctest/doctest.h>

#include <string_view>

#include "evenleg/network/solve.h"
#include "evenleg/units/phasor.h"
#include "tests/check.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr double kExact = 1e-12;

// Conductors and kinds with round figures, so that sums show.
Tables round_tables() {
  Tables tables;
  tables.systems = {
      {"120/240 split-phase", 120, {{"L1", 0}, {"L2", 180}}, true},
      {"120/208 two-leg", 120, {{"L1", 0}, {"L2", -120}}, false},
      {"230/400 wye", 230, {{"L1", 0}, {"L2", -120}, {"L3", 120}}, false},
  };
  Conductor thick;
  thick.name = "12 Cu";
  thick.ohms_per_metre = 0.01;
  thick.reactance_ohms_per_metre = 0.002;
  Conductor thin = thick;
  thin.name = "14 Cu";
  thin.ohms_per_metre = 0.02;
  tables.conductors = {thick, thin};
  LoadKind plain;
  plain.name = "plain";
  LoadKind motor;
  motor.name = "motor";
  motor.power_factor = 0.8;
  tables.load_kinds = {plain, motor};
  return tables;
}

Run conductor_run(const char* conductor, double metres) {
  Run run;
  run.conductor = conductor;
  run.length_m = metres;
  return run;
}

TEST_CASE("model: impedance of a run") {
  const Tables tables = round_tables();
  CHECK(impedance_of({}, tables) == RunImpedance{});

  Run run = conductor_run("12 Cu", 5);
  CHECK(close(impedance_of(run, tables).hot, Complex(0.05, 0.01), kExact));
  CHECK(close(impedance_of(run, tables).neutral, Complex(0.05, 0.01), kExact));

  run.neutral = "14 Cu";
  CHECK(close(impedance_of(run, tables).hot, Complex(0.05, 0.01), kExact));
  CHECK(close(impedance_of(run, tables).neutral, Complex(0.1, 0.01), kExact));

  Run feet;
  feet.conductor = "12 Cu";
  feet.length_ft = 100;  // 30.48 m
  CHECK(close(impedance_of(feet, tables).hot, Complex(0.3048, 0.06096), kExact));

  run.hot_ohms = 0.3;  // measured: both conductors, whatever the table says
  CHECK(impedance_of(run, tables) == RunImpedance{0.3, 0.3});
  run.neutral_ohms = 0.7;
  CHECK(impedance_of(run, tables) == RunImpedance{0.3, 0.7});
}

Supply supply_of(const char* system, double kva, double r_percent, double x_percent) {
  Supply supply;
  supply.system = system;
  supply.transformer = Transformer{kva, r_percent, x_percent};
  return supply;
}

// Kersting, example 11.1 (tests/published/kersting_test.cc): 50 kVA, R 0.011 and X 0.018 per unit
// on 120 V, base 0.288 ohm. Z0 = 0.288 (0.0055 + j0.0144) and Z = 0.288 (0.011 + j0.0072) ohm.
TEST_CASE("model: a split-phase transformer's halves and common part") {
  const Tables tables = round_tables();
  const Matrix z =
      source_impedance_of(supply_of("120/240 split-phase", 50, 1.1, 1.8), tables.systems[0]);
  REQUIRE(z.rows() == 2);
  const Complex common(0.001584, 0.0041472);
  const Complex half(0.003168, 0.0020736);
  CHECK(close(z(0, 0), half + common, kExact));
  CHECK(close(z(1, 1), half + common, kExact));
  CHECK(close(z(0, 1), -common, kExact));
  CHECK(close(z(1, 0), -common, kExact));
  // As a star: 0.006336 + j0.010368 ohm in each leg, minus the common part in the neutral.
  CHECK(close(z(0, 0) - z(0, 1), Complex(0.006336, 0.010368), kExact));
  // Leg to leg it shows R + jX on 240 V and 50 kVA, 1.152 ohm.
  const Complex leg_to_leg = z(0, 0) + z(1, 1) - z(0, 1) - z(1, 0);
  CHECK(close(leg_to_leg, Complex(1.152 * 0.011, 1.152 * 0.018), kExact));
}

// 75 kVA on 230 V: 25 kVA a phase, base 2.116 ohm.
TEST_CASE("model: a wye transformer has its impedance in each phase") {
  const Tables tables = round_tables();
  const Matrix z = source_impedance_of(supply_of("230/400 wye", 75, 1, 4), tables.systems[2]);
  REQUIRE(z.rows() == 3);
  for (int a = 0; a < 3; ++a) {
    for (int b = 0; b < 3; ++b) {
      CHECK(close(z(a, b), a == b ? Complex(0.02116, 0.08464) : Complex{}, kExact));
    }
  }
}

TEST_CASE("model: no transformer, no impedance") {
  const Tables tables = round_tables();
  Supply supply;
  CHECK(source_impedance_of(supply, tables.systems[2]).isZero(0));
}

House house_of(const char* system, const std::vector<Load>& loads) {
  House house;
  house.about["name"] = "A house by hand";
  house.supply.system = system;
  Panel panel;
  panel.name = "Main";
  panel.spaces = 4;
  house.panels = {panel};
  Circuit single;
  single.name = "single";
  single.legs = {"L1"};
  Circuit twice = single;
  twice.name = "double";
  twice.legs = {"L1", "L2"};
  twice.poles = 2;
  house.circuits = {single, twice};
  house.loads = loads;
  return house;
}

TEST_CASE("model: the source's volts") {
  const Tables tables = round_tables();
  House house = house_of("120/208 two-leg", {});
  CHECK(close(built(house, tables).model.source[0], 120.0, kExact));
  CHECK(close(built(house, tables).model.source[1], std::polar(120.0, radians(-120)), kExact));
  house.supply.volts = {121};
  CHECK(close(built(house, tables).model.source[1], std::polar(121.0, radians(-120)), kExact));
  house.supply.volts = {121, 118};
  CHECK(close(built(house, tables).model.source[0], 121.0, kExact));
  CHECK(close(built(house, tables).model.source[1], std::polar(118.0, radians(-120)), kExact));
}

Load load_on(const char* circuit) {
  Load load;
  load.name = "load";
  load.at = circuit;
  return load;
}

// y = conj(S) / V^2. With a power factor of 0.8 the reactive part is 0.6 of the volt-amperes.
TEST_CASE("model: nameplates as admittances") {
  struct Case {
    std::string_view what;
    Load load;
    Complex siemens;
    double nominal_volt_amps;
  };
  std::vector<Case> cases;
  const auto add = [&](std::string_view what, const char* circuit, Complex siemens,
                       double volt_amps) {
    cases.push_back({what, load_on(circuit), siemens, volt_amps});
    return &cases.back().load;
  };
  add("1440 W on 120 V", "single", 0.1, 1440)->watts = 1440;
  add("1440 VA, kind's power factor", "single", {0.08, -0.06}, 1440)->va = 1440;
  cases.back().load.kind = "motor";
  add("1152 W at 0.8 are 1440 VA", "single", {0.08, -0.06}, 1440)->watts = 1152;
  cases.back().load.power_factor = 0.8;
  add("leading", "single", {0.08, 0.06}, 1440)->va = 1440;
  cases.back().load.power_factor = 0.8;
  cases.back().load.leading = true;
  add("12 A at its 120 V", "single", 0.1, 1440)->amps = 12;
  add("10 ohms", "single", 0.1, 1440)->ohms = 10;
  add("nameplate of 240 V on 120 V", "single", 0.1, 5760)->watts = 5760;
  cases.back().load.volts = 240;
  add("5760 W across 240 V", "double", 0.1, 5760)->watts = 5760;
  for (const Case& c : cases) {
    CAPTURE(c.what);
    const LoadModel load =
        built(house_of("120/240 split-phase", {c.load}), round_tables()).model.loads[0];
    CHECK(close(load.admittance, c.siemens, kExact));
    CHECK(close(load.nominal_volt_amps, c.nominal_volt_amps, 1e-9));
  }
}

// Two legs of a wye have 208 V between them: 120 sqrt 3 = 207.846 V, so 4320 W draw on 43200 V^2
// 0.1 S.
TEST_CASE("model: nominal volts between two legs of a wye") {
  Load load = load_on("double");
  load.watts = 4320;
  const Model model = built(house_of("120/208 two-leg", {load}), round_tables()).model;
  CHECK(close(model.loads[0].nominal_volts, 207.846, 0.0005));
  CHECK(close(model.loads[0].admittance, 0.1, kExact));
}

// 10 A through 0.5 ohm each way on 120 V: 110 V are left, so the load is 11 ohms; a second load
// beside it that is off keeps what 10 A are at 120 V.
TEST_CASE("model: a clamp reading is taken in the house as found") {
  Load reading = load_on("single");
  reading.measured_amps = 10;
  Load off = reading;
  off.name = "off";
  off.on = false;
  House house = house_of("120/240 split-phase", {reading, off});
  house.circuits[0].run.hot_ohms = 0.5;
  const Model model = built(house, round_tables()).model;
  CHECK(close(model.loads[0].admittance, 1.0 / 11, kExact));
  CHECK(close(model.loads[1].admittance, 1.0 / 12, kExact));
}

TEST_CASE("model: admittances of the loads that are on") {
  Load one = load_on("single");
  one.ohms = 10;
  Load two = one;
  two.name = "two";
  two.ohms = 5;
  two.on = false;
  const Model model = built(house_of("120/240 split-phase", {one, two}), round_tables()).model;
  CHECK(on_as_found(model) == std::vector<bool>{true, false});
  const std::vector<Complex> y = admittances(model, {false, true});
  CHECK(y[0] == Complex{});
  CHECK(close(y[1], 0.2, kExact));
}

}  // namespace
}  // namespace evenleg
