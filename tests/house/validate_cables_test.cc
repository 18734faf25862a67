// The rules of validate() for multiwires, outlets, loads and their connections, one slip at a time
// on a house that is otherwise sound. The rules are those of the house description.
#include <doctest/doctest.h>

#include "evenleg/house/validate.h"
#include "evenleg/house/wiring.h"
#include "tests/house/sound_house.h"

namespace evenleg {

using namespace sound_house;

TEST_CASE("validate: multiwires and outlets") {
  check_each({
      {"a multiwire's circuits exist",
       [](House& h) {
         h.multiwires[0].circuits = {"Left", "Right", "Rihgt"};
       },
       {"multiwire", 0, "circuits"},
       "no circuit is called \"Rihgt\""},
      {"a multiwire lists a circuit once",
       [](House& h) {
         h.multiwires[0].circuits = {"Left", "Right", "Left"};
       },
       {"multiwire", 0, "circuits"},
       "circuit \"Left\" is listed twice"},
      {"a circuit is in one multiwire",
       [](House& h) {
         h.multiwires.push_back(h.multiwires[0]);
         h.multiwires[1].name = "Other";
         h.multiwires[1].circuits = {"Den", "Right"};
       },
       {"multiwire", 1, "circuits"},
       "circuit \"Right\" is already part of multiwire \"Counter\""},
      {"a multiwire has two hots",
       [](House& h) {
         h.multiwires.push_back({});
         h.multiwires[1].name = "Other";
         h.multiwires[1].circuits = {"Den"};
       },
       {"multiwire", 1, "circuits"},
       "only one hot conductor shares this neutral"},
      {"an outlet's circuit exists",
       [](House& h) { h.outlets[3].on = "Dne"; },
       {"outlet", 3, "on"},
       "no circuit or multiwire is called \"Dne\""},
      {"an outlet's circuit is not a multiwire too",
       [](House& h) {
         h.multiwires.push_back({});
         h.multiwires[1].name = "Den";
         h.multiwires[1].circuits = {"Range"};
         h.outlets.pop_back();
       },
       {"outlet", 2, "on"},
       "both a circuit and a multiwire are called \"Den\""},
      {"the outlet before exists",
       [](House& h) { h.outlets[3].after = "Soaf"; },
       {"outlet", 3, "after"},
       "no outlet is called \"Soaf\""},
      {"the outlet before is on the same cable",
       [](House& h) { h.outlets[3].after = "Window"; },
       {"outlet", 3, "after"},
       "outlet \"Window\" is on \"Left\", and this one is on \"Den\""},
      {"a multiwire does not continue from its circuit's outlet",
       [](House& h) {
         h.outlets[1].after.reset();
         h.outlets[0].after = "Window";
       },
       {"outlet", 0, "after"},
       "outlet \"Window\" is on \"Left\", and this one is on \"Counter\""},
      {"no outlet is after itself",
       [](House& h) { h.outlets[3].after = "Lamp box"; },
       {"outlet", 3, "after"},
       "outlet \"Lamp box\" is after itself"},
      {"outlets make no loop, also where one follows by the order",
       [](House& h) { h.outlets[2].after = "Lamp box"; },
       {"outlet", 2, "after"},
       "outlets Sofa and Lamp box are after each other in a loop"},
  });
}

TEST_CASE("validate: loads and their connections") {
  check_each({
      {"a load's place exists",
       [](House& h) { h.loads[3].at = "Sfoa"; },
       {"load", 3, "at"},
       "no outlet or circuit is called \"Sfoa\""},
      {"a load's place is an outlet or a circuit",
       [](House& h) {
         h.outlets.push_back(outlet("Range", "Den"));
         h.readings.clear();
       },
       {"load", 2, "at"},
       "both an outlet and a circuit are called \"Range\""},
      {"a circuit is named at a multiwire only",
       [](House& h) { h.loads[1].circuit = "Left"; },
       {"load", 1, "circuit"},
       "only a load at an outlet on a multiwire has a circuit to name"},
      {"the circuit is one of the multiwire",
       [](House& h) { h.loads[0].circuit = "Den"; },
       {"load", 0, "circuit"},
       "circuit \"Den\" does not reach \"Sink\""},
      {"the circuit exists",
       [](House& h) { h.loads[0].circuit = "Rihgt"; },
       {"load", 0, "circuit"},
       "no circuit is called \"Rihgt\""},
      {"which hot of a multiwire",
       [](House& h) { h.loads[0].circuit.reset(); },
       {"load", 0, "connect"},
       "2 hot conductors reach \"Sink\", and nothing says which one this load uses"},
      {"which hot of a multiwire, L-N",
       [](House& h) {
         h.loads[0].circuit.reset();
         h.loads[0].connect = "L-N";
       },
       {"load", 0, "connect"},
       "2 hot conductors reach \"Sink\", and L-N does not say which"},
      {"L-N on two poles",
       [](House& h) { h.loads[2].connect = "L-N"; },
       {"load", 2, "connect"},
       "2 hot conductors reach \"Range\", and L-N does not say which"},
      {"L-L on one pole",
       [](House& h) { h.loads[3].connect = "L-L"; },
       {"load", 3, "connect"},
       "only one hot conductor reaches \"Sofa\""},
      {"a leg that does not reach",
       [](House& h) { h.loads[3].connect = "L2-N"; },
       {"load", 3, "connect"},
       "leg L2 does not reach \"Sofa\""},
      {"two equal legs",
       [](House& h) { h.loads[2].connect = "L1-L1"; },
       {"load", 2, "connect"},
       "\"L1-L1\" begins and ends on the same leg"},
      {"no connection at all",
       [](House& h) { h.loads[2].connect = "L1"; },
       {"load", 2, "connect"},
       "\"L1\" is not a connection"},
      {"two hots on one leg",
       [](House& h) {
         h.circuits[1].space = 9;  // L1, as "Left" is
         h.loads[0].circuit.reset();
         h.loads[0].connect = "L1-N";
       },
       {"load", 0, "connect"},
       "2 hot conductors on leg L1 reach \"Sink\""},
      {"no rating",
       [](House& h) { h.loads[3].watts.reset(); },
       {"load", 3, ""},
       "the load has no rating"},
      {"two ratings",
       [](House& h) { h.loads[3].amps = 5; },
       {"load", 3, "amps"},
       "watts and amps are given together"},
      {"ohms have no power factor",
       [](House& h) {
         h.loads[3].watts.reset();
         h.loads[3].ohms = 12;
         h.loads[3].power_factor = 0.8;
       },
       {"load", 3, "power_factor"},
       "ohms is a pure resistance, and power_factor is 0.8"},
      {"ohms have no spectrum",
       [](House& h) {
         h.loads[3].watts.reset();
         h.loads[3].ohms = 12;
         h.loads[3].spectrum = {{"3", 10}};
       },
       {"load", 3, "spectrum"},
       "ohms is a pure resistance, which has no spectrum of its own"},
      {"an angle belongs to an order of the spectrum",
       [](House& h) {
         h.loads[3].spectrum = {{"3", 10}};
         h.loads[3].spectrum_degrees = {{"3", 30}, {"5", -30}};
       },
       {"load", 3, "spectrum_degrees"},
       "there is an angle for order 5, and spectrum has no such order"},
      {"starting current in one way only",
       [](House& h) {
         h.loads[3].starting_amps = 40;
         h.loads[3].code_letter = "G";
       },
       {"load", 3, "code_letter"},
       "the starting current is given twice"},
      {"starting current and horsepower",
       [](House& h) {
         h.loads[3].starting_amps = 40;
         h.loads[3].horsepower = 1;
       },
       {"load", 3, "horsepower"},
       "the starting current is given twice"},
      {"a code letter needs the horsepower",
       [](House& h) { h.loads[3].code_letter = "G"; },
       {"load", 3, "code_letter"},
       "a code letter says nothing without the horsepower"},
      {"horsepower needs the code letter",
       [](House& h) { h.loads[3].horsepower = 1; },
       {"load", 3, "horsepower"},
       "horsepower is there without a code letter"},
      {"starts of what does not start",
       [](House& h) { h.loads[3].starts_per_hour = 4; },
       {"load", 3, "starts_per_hour"},
       "starts_per_hour is there without a starting current"},
      {"power factor of what does not start",
       [](House& h) { h.loads[3].starting_power_factor = 0.5; },
       {"load", 3, "starting_power_factor"},
       "starting_power_factor is there without a starting current"},
      {"code letter I",
       [](House& h) {
         h.loads[3].code_letter = "I";
         h.loads[3].horsepower = 1;
       },
       {"load", 3, "code_letter"},
       "code_letter = \"I\", and it must be \"A\", \"B\", \"C\", \"D\", \"E\", \"F\", \"G\", "
       "\"H\", \"J\", \"K\", \"L\", \"M\", \"N\", \"P\", \"R\", \"S\", \"T\", \"U\" or \"V\""},
      {"ohms do not lead",
       [](House& h) {
         h.loads[3].watts.reset();
         h.loads[3].ohms = 12;
         h.loads[3].leading = true;
       },
       {"load", 3, "leading"},
       "ohms is a pure resistance, which neither lags nor leads"},
      {"the kind is known",
       [](House& h) { h.loads[3].kind = "heatign"; },
       {"load", 3, "kind"},
       "no kind of load is called \"heatign\""},
  });
}

TEST_CASE("validate: connections that leave one meaning are accepted") {
  House house = sound();
  house.loads[0].circuit.reset();
  house.loads[0].connect = "L2-N";
  CHECK(validate(house, words()).empty());
  house.loads[0].connect = "L-L";
  CHECK(validate(house, words()).empty());
  house.loads[0].connect = "L1-L2";
  CHECK(validate(house, words()).empty());
  const Wiring wiring = wire(house, words().systems[0]);
  CHECK(legs_text(wiring, wiring.cables[0], wiring.loads[0].from, wiring.loads[0].to) == "L1-L2");
}

TEST_CASE("validate: three poles need their legs named") {
  House house = sound();
  house.supply.system = "120/208 wye";
  house.panels[1].at_spaces = {17, 19};
  house.circuits[2] = circuit("Range", 8, 3);  // rows 4, 5, 6: legs L1, L2, L3
  const auto faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].what == "3 hot conductors reach \"Range\", and L-L does not say which two");
  CHECK(faults[0].remedy == "write L1-L2 or L1-L3 or L2-L3");
  house.loads[2].connect = "L1-L3";
  CHECK(validate(house, words()).empty());
}

TEST_CASE("validate: circuits of one multiwire may come from two panels") {
  House house = sound();
  house.multiwires[0].circuits = {"Left", "Right", "Bench"};
  CHECK(validate(house, words()).empty());
}

}  // namespace evenleg
