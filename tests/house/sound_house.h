// A sound house for the tests of validate(), and a way to try one slip at a time on it.
#pragma once

#include <doctest/doctest.h>

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "evenleg/house/validate.h"

namespace evenleg::sound_house {

inline Vocabulary words() {
  Vocabulary vocabulary;
  vocabulary.systems = {
      {"120/240 split-phase", 120, {{"L1", 0}, {"L2", 180}}, true},
      {"120/208 wye", 120, {{"L1", 0}, {"L2", -120}, {"L3", 120}}, false},
  };
  vocabulary.load_kinds = {"plain", "heating", "motor"};
  vocabulary.knows_conductor = [](std::string_view name) {
    return name == "12 Cu" || name == "4/0 Al";
  };
  return vocabulary;
}

inline Circuit circuit(std::string name, int space, int poles = 1) {
  Circuit made;
  made.name = std::move(name);
  made.space = space;
  made.poles = poles;
  return made;
}

inline Outlet outlet(std::string name, std::string on) {
  Outlet made;
  made.name = std::move(name);
  made.on = std::move(on);
  return made;
}

inline Load load(std::string name, std::string at) {
  Load made;
  made.name = std::move(name);
  made.at = std::move(at);
  made.watts = 1000;
  return made;
}

// Spaces 1, 2 and 5, 6 are on L1; 3, 4 and 7, 8 on L2: each row sits on the next leg in turn.
inline House sound() {
  House house;
  house.about["name"] = "Fernhill Cottage";
  house.supply.system = "120/240 split-phase";
  house.panels.resize(2);
  house.panels[0].name = "Main";
  house.panels[0].spaces = 20;
  house.panels[1].name = "Garage";
  house.panels[1].spaces = 8;
  house.panels[1].fed_from = "Main";
  house.panels[1].at_spaces = {17, 19};
  house.circuits = {circuit("Left", 1), circuit("Right", 3), circuit("Range", 2, 2),
                    circuit("Den", 5), circuit("Bench", 1)};
  house.circuits[4].panel = "Garage";
  house.multiwires.resize(1);
  house.multiwires[0].name = "Counter";
  house.multiwires[0].circuits = {"Left", "Right"};
  house.multiwires[0].run.conductor = "12 Cu";
  house.outlets = {outlet("Sink", "Counter"), outlet("Window", "Left"), outlet("Sofa", "Den"),
                   outlet("Lamp box", "Den")};
  house.outlets[1].after = "Sink";
  house.loads = {load("Kettle", "Sink"), load("Toaster", "Window"), load("Oven", "Range"),
                 load("Heater", "Sofa")};
  house.loads[0].circuit = "Right";
  house.scenarios.resize(1);
  house.scenarios[0].name = "Evening";
  house.scenarios[0].share = {{"Oven", 0.4}};
  house.readings.resize(1);
  house.readings[0].at = "Main";
  house.readings[0].on = {"Kettle"};
  return house;
}

struct Case {
  const char* rule;
  std::function<void(House&)> slip;
  Subject subject;
  const char* what;
};

inline void check_each(const std::vector<Case>& cases) {
  for (const Case& row : cases) {
    CAPTURE(row.rule);
    House house = sound();
    row.slip(house);
    const auto faults = validate(house, words());
    REQUIRE(faults.size() == 1);
    CHECK(described(faults[0].subject, house) == described(row.subject, house));
    CHECK(faults[0].subject == row.subject);
    CHECK(faults[0].what == row.what);
    CHECK(!faults[0].remedy.empty());
  }
}

}  // namespace evenleg::sound_house
