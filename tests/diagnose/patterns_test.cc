// Each condition of the symptom grid, simulated: the readings of a house with that fault name it
// first. The grid is common practice (data/patterns.toml); the readings are computed by the engine
// of the whole house, not by the estimates that judge them.
#include <doctest/doctest.h>

#include "tests/check.h"
#include "tests/diagnose/simulated_visit.h"
#include "tests/diagnose/visit_house.h"

namespace evenleg {
namespace {

// As a visit goes: nothing on, a heater on L1, a toaster on L2, both, a range.
void read_panel(SimulatedVisit& visit) {
  visit.read("Main", {});
  visit.read("Main", {"Heater"});
  visit.read("Main", {"Toaster"});
  visit.read("Main", {"Heater", "Toaster"});
  visit.read("Main", {"Oven"});
}

// That the pattern comes first; all that was named is said when it does not.
void check_first(const SimulatedVisit& visit, const std::string& name) {
  const Diagnosis diagnosis = visit.judged();
  std::string all;
  for (const PatternMatch& match : diagnosis.patterns) {
    all += match.name + " " + shown(match.score) + "\n";
    for (const std::string& one : match.for_it) all += "  for: " + one + "\n";
    for (const std::string& one : match.against_it) all += "  against: " + one + "\n";
  }
  CAPTURE(all);
  CHECK((diagnosis.patterns.empty() ? "" : diagnosis.patterns.front().name) == name);
}

TEST_CASE("a sound service: no pattern") {
  SimulatedVisit visit(visit_house());
  read_panel(visit);
  const Diagnosis diagnosis = visit.judged();
  CHECK(diagnosis.patterns.empty());
  CHECK(diagnosis.verdict.find("does not show that nothing is wrong") != std::string::npos);
}

TEST_CASE("a loose service neutral, from 0.1 ohm to nearly open") {
  for (const double ohms : {0.1, 0.3, 1.0, 5.0, 25.0}) {
    CAPTURE(ohms);
    SimulatedVisit visit(visit_house());
    visit.add_to_service_neutral(ohms);
    read_panel(visit);
    check_first(visit, "service neutral");
  }
}

TEST_CASE("a loose service neutral, with clamped amperes and with two readings only") {
  SimulatedVisit clamped(visit_house());
  clamped.add_to_service_neutral(0.4);
  clamped.read_clamped("Main", {});
  clamped.read_clamped("Main", {"Heater"});
  clamped.read_clamped("Main", {"Toaster"});
  check_first(clamped, "service neutral");
  SimulatedVisit two(visit_house());
  two.add_to_service_neutral(0.6);
  two.read("Main", {});
  two.read("Main", {"Heater"});
  check_first(two, "service neutral");
}

TEST_CASE("a loose neutral of a multiwire, home run") {
  SimulatedVisit visit(visit_house());
  visit.truth().cables[visit.cable_of("Kitchen")].boxes[1].run.neutral += 5;
  for (const char* at : {"Main", "Left", "Right"}) {
    visit.read(at, {});
    visit.read(at, {"Kettle"});
  }
  check_first(visit, "multiwire neutral");
}

House chain_house() {
  House house = visit_house();
  // Both hots go on from "Left" to a second shared box.
  house.outlets[1].on = "Kitchen";
  house.outlets[2].on = "Kitchen";
  house.outlets[2].after = "Left";
  house.outlets[2].run.length_ft = 10;
  house.loads[1].circuit = "Counter left";
  house.loads[2].circuit = "Counter right";
  house.loads.push_back(house.loads[1]);
  house.loads.back().name = "Second kettle";
  house.loads.back().at = "Right";
  return house;
}

TEST_CASE("a multiwire's neutral loose beyond its first box") {
  SimulatedVisit visit(chain_house());
  const std::size_t cable = visit.cable_of("Kitchen");
  visit.truth().cables[cable].boxes.back().run.neutral += 5;
  for (const char* at : {"Main", "Left", "Right"}) {
    visit.read(at, {});
    visit.read(at, {"Second kettle"});
  }
  check_first(visit, "multiwire neutral at a device");
}

TEST_CASE("an open neutral on a two-wire branch") {
  SimulatedVisit visit(visit_house());
  visit.truth().cables[visit.cable_of("Den")].boxes.back().run.neutral += 1e5;
  read_panel(visit);
  visit.read("Den wall", {});
  visit.read("Den wall", {"Heater"});
  check_first(visit, "two-wire neutral");
}

TEST_CASE("both hots of a multiwire on one leg") {
  House house = visit_house();
  house.circuits[2].space = 6;  // opposite the other, in one row
  SimulatedVisit visit(house);
  visit.read("Main", {});
  visit.read("Main", {"Kettle", "Toaster"});
  Reading& reading = visit.read("Left", {"Kettle", "Toaster"});
  // By hand: 1500 W and 900 W at 120 V are 12.5 A and 7.5 A at that; both return together.
  reading.neutral_amps = 20;
  check_first(visit, "same leg");
  SimulatedVisit across(house);
  across.read("Left", {}).l1_l2_volts = 0.1;
  check_first(across, "same leg");
}

TEST_CASE("a borrowed neutral") {
  SimulatedVisit visit(visit_house());
  read_panel(visit);
  Reading& reading = visit.read("Den wall", {"Heater"});
  reading.together_amps = 4.2;
  check_first(visit, "crossed neutrals");
}

TEST_CASE("a loose and a lost hot of the service") {
  for (const double ohms : {0.2, 1.0, 5.0}) {
    CAPTURE(ohms);
    SimulatedVisit visit(visit_house());
    visit.add_to_service_hot(0, ohms);
    read_panel(visit);
    check_first(visit, "service hot");
  }
  SimulatedVisit lost(visit_house());
  lost.add_to_service_hot(0, 1e5);
  lost.read("Main", {"Lamps"});
  lost.read("Main", {"Lamps", "Oven"});  // back through the oven
  check_first(lost, "service hot");
}

TEST_CASE("a supply that falls under load") {
  SimulatedVisit visit(visit_house());
  visit.add_to_service_hot(0, 0.3);
  visit.add_to_service_hot(1, 0.3);
  read_panel(visit);
  check_first(visit, "supply drop");
  // Long and thin, and described so: no more than is expected, yet too much.
  House thin = visit_house();
  thin.service->run.conductor = "8 Cu";
  thin.service->run.neutral = "8 Cu";
  thin.service->run.length_ft = 400;
  SimulatedVisit described(thin);
  described.read("Main", {});
  described.read("Main", {"Oven", "Heater", "Toaster"});
  check_first(described, "supply drop");
}

TEST_CASE("a motor's start") {
  House house = visit_house();
  Load motor;
  motor.name = "Cooling";
  motor.at = "Range";
  motor.kind = "central air conditioner";
  motor.amps = 16;
  motor.volts = 240;
  motor.on = false;
  house.loads.push_back(motor);
  SimulatedVisit visit(house);
  visit.add_to_service_hot(0, 0.03);
  visit.add_to_service_hot(1, 0.03);
  visit.read("Main", {});
  visit.load_factor = 5;  // locked rotor, about five times the rated current: the grid's figure
  visit.read("Main", {"Cooling"}).label = "air conditioner starts";
  visit.load_factor = 1;
  visit.read("Main", {"Cooling"}).label = "running";
  check_first(visit, "motor start");
}

TEST_CASE("one bad joint of a branch, in the hot or in the neutral") {
  for (const bool neutral : {false, true}) {
    CAPTURE(neutral);
    SimulatedVisit visit(visit_house());
    RunImpedance& run = visit.truth().cables[visit.cable_of("Den")].boxes.back().run;
    (neutral ? run.neutral : run.hot) += 1.5;
    read_panel(visit);
    visit.read("Den wall", {});
    visit.read("Den wall", {"Heater"});
    check_first(visit, "branch joint");
  }
}

TEST_CASE("a regulator or tap, and a blink of the line") {
  SimulatedVisit level(visit_house());
  level.read("Main", {}).time = "2026-03-14T18:00:00";
  for (Complex& leg : level.truth().source) leg *= 1.09;
  level.read("Main", {}).time = "2026-03-15T01:30:00";
  check_first(level, "supply level");
  SimulatedVisit blink(visit_house());
  blink.read("Main", {}).time = "2026-03-14T18:00:00";
  for (Complex& leg : blink.truth().source) leg *= 0.93;
  blink.read("Main", {}).time = "2026-03-14T18:00:03";
  blink.house.visit["neighbours"] = "yes, they see it too";
  check_first(blink, "line disturbance");
}

TEST_CASE("a lamp that does not suit its dimmer") {
  SimulatedVisit visit(visit_house());
  read_panel(visit);
  visit.house.visit["complaint"] = "Only the LED lamp on the dimmer flickers";
  check_first(visit, "lamp");
}

// As a page of notes has them: volts alone, one or two readings, no list of what was on.
Reading noted(const std::string& at, double one, double two, double across) {
  Reading reading;
  reading.at = at;
  reading.l1_n_volts = one;
  reading.l2_n_volts = two;
  reading.l1_l2_volts = across;
  return reading;
}

TEST_CASE("volts alone: by hand, what each condition of the grid gives") {
  const auto check = [](const std::vector<Reading>& readings, const std::string& name) {
    SimulatedVisit visit(visit_house());
    visit.house.readings = readings;
    check_first(visit, name);
  };
  check({noted("Main", 92, 150, 242)}, "service neutral");
  check({noted("Main", 3, 121, 118)}, "service hot");
  check({noted("Main", 96, 121, 217)}, "service hot");
  check({noted("Main", 131, 131, 262)}, "supply level");
  Reading dead;
  dead.at = "Den wall";
  dead.l1_n_volts = 0;
  dead.l1_ground_volts = 121;
  dead.neutral_ground_volts = 121;
  check({noted("Main", 121, 121, 242), dead}, "two-wire neutral");
  Reading low, high;
  low.at = "Left";
  low.l1_n_volts = 70;
  high.at = "Right";
  high.l2_n_volts = 172;
  check({noted("Main", 121, 121, 242), low, high}, "multiwire neutral");
  Reading stray;
  stray.at = "Den wall";
  stray.l1_amps = 0;
  stray.neutral_amps = 3.2;
  check({stray}, "crossed neutrals");
}

// Lessons in Electric Circuits II, "Three-phase Y and delta": two 120 V sources 120 degrees apart
// and equal loads without the neutral give 104 V on each, their 208 V between them untouched.
TEST_CASE("two legs of a wye: both low, the volts between them whole") {
  House house = visit_house();
  house.supply.system = "120/208 two-leg";
  house.supply.volts = {120};
  SimulatedVisit visit(house);
  visit.house.readings = {noted("Main", 120, 120, 208), noted("Main", 104, 104, 208)};
  visit.house.readings[1].l1_amps = visit.house.readings[1].l2_amps = 8;
  check_first(visit, "service neutral");
}

TEST_CASE("answers alone") {
  const auto check = [](const FreeText& answers, const std::string& name) {
    SimulatedVisit visit(visit_house());
    visit.house.visit = answers;
    check_first(visit, name);
  };
  check({{"complaint", "Some lights dim and others brighten when the iron is on"},
         {"extent", "the whole house"}},
        "service neutral");
  check({{"complaint", "Half the circuits are dead, and the oven is weak"}}, "service hot");
  check({{"complaint", "Lights dim for half a second when the air conditioner starts"}},
        "motor start");
  check({{"complaint", "Blinks in wind"}, {"neighbours", "yes"}}, "line disturbance");
  check({{"complaint", "The arc-fault breaker trips as soon as the lamp is on"}},
        "crossed neutrals");
  check({{"complaint", "only the LED lamps on the dimmer flicker"}, {"extent", "one lamp"}},
        "lamp");
  check({{"complaint", "bulbs burn out"}, {"when", "every night at the same hour"}},
        "supply level");
  check({{"complaint", "nothing to report"}}, "");
}

TEST_CASE("a loose joint in a feeder") {
  House house = visit_house();
  Panel shed;
  shed.name = "Shed";
  shed.spaces = 8;
  shed.fed_from = "Main";
  shed.at_spaces = {18, 20};
  shed.run.conductor = "6 Cu";
  shed.run.length_ft = 60;
  house.panels.push_back(shed);
  house.circuits[0].panel = "Shed";
  house.circuits[4].panel = "Shed";
  house.circuits[4].space = 3;
  house.loads[4].watts = 900;
  SimulatedVisit visit(house);
  visit.truth().panels[1].run.neutral += 0.5;
  for (const char* at : {"Main", "Shed"}) {
    visit.read(at, {});
    visit.read(at, {"Heater"});
    visit.read(at, {"Lamps"});
  }
  check_first(visit, "feeder joint");
}

}  // namespace
}  // namespace evenleg
