// The rules of validate() for names, values, supply, panels, spaces and records, one slip at a time
// on a house that is otherwise sound: exactly that fault is told, at its entry and key. The rules
// are those of the house description.
#include "evenleg/house/validate.h"

#include <doctest/doctest.h>

#include <limits>

#include "evenleg/house/wiring.h"
#include "tests/house/sound_house.h"

namespace evenleg {

using namespace sound_house;

namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

// A size without a metal is told which metals there are; no other size is put in its place.
TEST_CASE("validate: a conductor's metal is asked for") {
  const auto remedy = [](const char* conductor) {
    House house = sound();
    house.circuits[3].run.conductor = conductor;
    const auto faults = validate(house, words());
    REQUIRE(faults.size() == 1);
    return faults[0].remedy;
  };
  for (const char* const size : {"12", "#12", "12 AWG", "12/3", "12-2"}) {
    CAPTURE(size);
    CHECK(remedy(size) == "write its metal too: \"12 Cu\"");
  }
  CHECK(remedy("4/0") == "write its metal too: \"4/0 Al\"");
  for (const char* const other : {"12 mm2", "4/0-4/0-2/0", "12 copper", "12 Fe", "/2"}) {
    CAPTURE(other);
    CHECK(remedy(other).starts_with("write size and metal"));
  }
}

}  // namespace

TEST_CASE("validate: a sound house has no fault, and can be wired") {
  const House house = sound();
  CHECK(validate(house, words()).empty());
  const Wiring wiring = wire(house, words().systems[0]);
  CHECK(wiring.loads.size() == house.loads.size());
}

TEST_CASE("validate: names, values and the supply") {
  check_each({
      {"the house has a name",
       [](House& h) { h.about.clear(); },
       {"house", 0, "name"},
       "the house has no name"},
      {"names are unique within their kind",
       [](House& h) { h.loads[3].name = "Oven"; },
       {"load", 3, "name"},
       "another load is already called \"Oven\""},
      {"no name is empty",
       [](House& h) { h.outlets[3].name = ""; },
       {"outlet", 3, "name"},
       "name = \"\", and it must not be empty"},
      {"numbers keep their bounds",
       [](House& h) { h.loads[3].watts = -5; },
       {"load", 3, "watts"},
       "watts = -5, and it must be a number above 0 and at most 1000000"},
      {"numbers are finite",
       [](House& h) { h.loads[3].watts = kInfinite; },
       {"load", 3, "watts"},
       "watts = inf, and it must be a finite number"},
      {"the system is known",
       [](House& h) { h.supply.system = "120/240 split phase"; },
       {"supply", 0, "system"},
       "\"120/240 split phase\" is not a known supply system"},
      {"volts for one leg or for all",
       [](House& h) {
         h.supply.volts = {120, 121, 122};
       },
       {"supply", 0, "volts"},
       "3 values for the 2 legs of \"120/240 split-phase\""},
      {"volts are above 0",
       [](House& h) { h.supply.volts = {0}; },
       {"supply", 0, "volts"},
       "volts holds 0, and it must be a number or a list of numbers, each above 0 and at most "
       "1000"},
      {"a transformer has its kva",
       [](House& h) {
         h.supply.transformer = Transformer{{}, 1.2, {}};
       },
       {"supply.transformer", 0, "kva"},
       "the transformer has no kva"},
      {"a transformer has a percentage",
       [](House& h) {
         h.supply.transformer = Transformer{25, {}, {}};
       },
       {"supply.transformer", 0, "resistance_percent"},
       "the transformer has neither resistance_percent nor reactance_percent"},
      {"conductors are known",
       [](House& h) { h.circuits[3].run.neutral = "12 Fe"; },
       {"circuit", 3, "neutral"},
       "\"12 Fe\" is not a known conductor"},
      {"one length only",
       [](House& h) { h.outlets[2].run.length_ft = h.outlets[2].run.length_m = 3; },
       {"outlet", 2, "length_m"},
       "both length_ft and length_m are given"},
  });
}

TEST_CASE("validate: panels, spaces and legs") {
  check_each({
      {"the first panel has no feeding panel",
       [](House& h) { h.panels[0].fed_from = "Garage"; },
       {"panel", 0, "fed_from"},
       "the first panel is fed by the service, not by a panel"},
      {"the first panel has no feeder",
       [](House& h) { h.panels[0].run.length_ft = 3; },
       {"panel", 0, ""},
       "the first panel is fed by the service and has no feeder of its own"},
      {"every other panel has a feeding panel",
       [](House& h) { h.panels[1].fed_from.reset(); },
       {"panel", 1, "fed_from"},
       "only the first panel is fed by the service"},
      {"the feeding panel exists",
       [](House& h) { h.panels[1].fed_from = "Mian"; },
       {"panel", 1, "fed_from"},
       "no panel is called \"Mian\""},
      {"no panel feeds itself",
       [](House& h) {
         h.panels[1].fed_from = "Garage";
         h.panels[1].at_spaces.clear();
       },
       {"panel", 1, "fed_from"},
       "panel \"Garage\" is fed from itself"},
      {"feeder spaces are within the feeding panel",
       [](House& h) {
         h.panels[1].at_spaces = {19, 21};
       },
       {"panel", 1, "at_spaces"},
       "space 21 is beyond the 20 spaces of panel \"Main\""},
      {"feeder spaces are on different legs",
       [](House& h) {
         h.panels[1].at_spaces = {13, 17};
       },
       {"panel", 1, "at_spaces"},
       "two of its spaces are on leg L1"},
      {"feeder spaces are free",
       [](House& h) {
         h.panels[1].at_spaces = {5, 7};
       },
       {"panel", 1, "at_spaces"},
       "space 5 of panel \"Main\" is taken by circuit \"Den\""},
      {"a circuit's panel exists",
       [](House& h) { h.circuits[4].panel = "Barn"; },
       {"circuit", 4, "panel"},
       "no panel is called \"Barn\""},
      {"a circuit has a space or legs",
       [](House& h) { h.circuits[3].space.reset(); },
       {"circuit", 3, "space"},
       "the circuit has neither a space nor legs"},
      {"a space is within the panel",
       [](House& h) { h.circuits[3].space = 21; },
       {"circuit", 3, "space"},
       "space 21 is beyond the 20 spaces of panel \"Main\""},
      {"the second pole is within the panel",
       [](House& h) { h.circuits[2].space = 20; },
       {"circuit", 2, "space"},
       "space 22 is beyond the 20 spaces of panel \"Main\""},
      {"a space is taken once",
       [](House& h) { h.circuits[3].space = 1; },
       {"circuit", 3, "space"},
       "space 1 of panel \"Main\" is taken by circuit \"Left\""},
      {"the second pole's space is taken once",
       [](House& h) { h.circuits[3].space = 4; },
       {"circuit", 3, "space"},
       "space 4 of panel \"Main\" is taken by circuit \"Range\""},
      {"two poles are on different legs",
       [](House& h) {
         h.circuits[2].legs = {"L1", "L1"};
       },
       {"circuit", 2, "legs"},
       "two of its 2 poles are on leg L1"},
      {"as many legs as poles",
       [](House& h) {
         h.circuits[3].legs = {"L1", "L2"};
       },
       {"circuit", 3, "legs"},
       "2 legs for 1 pole"},
      {"legs exist",
       [](House& h) { h.circuits[3].legs = {"L3"}; },
       {"circuit", 3, "legs"},
       "no leg of this supply is called \"L3\""},
      {"legs are on the panel's bus",
       [](House& h) {
         h.panels[1].at_spaces = {17};
         h.circuits[4].legs = {"L2"};
       },
       {"circuit", 4, "legs"},
       "leg L2 is not on the bus of this circuit's panel"},
      {"three poles need three legs (space 8 is on L2, 10 on L1, 12 on L2)",
       [](House& h) {
         h.circuits[2].space = 8;
         h.circuits[2].poles = 3;
         h.loads[2].connect = "L1-L2";
       },
       {"circuit", 2, "poles"},
       "two of its 3 poles are on leg L2"},
  });
}

TEST_CASE("validate: a tandem breaker's circuits share a space where one gives its legs") {
  House house = sound();
  house.circuits[3].space = 1;
  house.circuits[3].legs = {"L2"};
  CHECK(validate(house, words()).empty());
  house.circuits.push_back(circuit("Hall", 1));
  const auto faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].subject == Subject{"circuit", 5, "space"});
}

TEST_CASE("validate: a loop of panels is told once, with its names") {
  House house = sound();
  house.panels.resize(4);
  house.panels[2].name = "Barn";
  house.panels[2].spaces = 8;
  house.panels[2].fed_from = "Loft";
  house.panels[3].name = "Loft";
  house.panels[3].spaces = 8;
  house.panels[3].fed_from = "Barn";
  const auto faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].subject == Subject{"panel", 2, "fed_from"});
  CHECK(faults[0].what == "panels Barn and Loft feed each other in a loop");
}

TEST_CASE("validate: scenarios and readings") {
  check_each({
      {"a scenario's loads exist",
       [](House& h) {
         h.scenarios[0].share = {{"Ovne", 1}};
       },
       {"scenario", 0, "share"},
       "no load is called \"Ovne\""},
      {"on or share",
       [](House& h) { h.scenarios[0].on = {"Kettle"}; },
       {"scenario", 0, "share"},
       "both on and share are given"},
      {"a share is at most 1",
       [](House& h) { h.scenarios[0].share["Oven"] = 1.5; },
       {"scenario", 0, "share"},
       "share of \"Oven\" = 1.5, and it must be a number from 0 to 1"},
      {"a reading's place exists",
       [](House& h) { h.readings[0].at = "Mian"; },
       {"reading", 0, "at"},
       "no panel or outlet is called \"Mian\""},
      {"a reading's loads exist",
       [](House& h) { h.readings[0].on = {"Ketlte"}; },
       {"reading", 0, "on"},
       "no load is called \"Ketlte\""},
  });
}

TEST_CASE("validate: every fault is told, not only the first") {
  House house = sound();
  house.supply.system = "nowhere";
  house.panels[1].fed_from = "Barn";
  house.circuits[3].space = 99;
  house.outlets[3].on = "Cellar";
  house.loads[3].amps = 5;
  house.readings[0].at = "Attic";
  const auto faults = validate(house, words());
  std::vector<std::string> kinds;
  for (const HouseFault& fault : faults) kinds.push_back(fault.subject.kind);
  CHECK(kinds ==
        std::vector<std::string>{"supply", "panel", "circuit", "outlet", "load", "reading"});
}

TEST_CASE("validate: an unknown name close to a known one is suggested") {
  House house = sound();
  house.circuits[4].panel = "Grage";
  const auto faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].remedy == "name an existing panel, perhaps \"Garage\"");
}

TEST_CASE("validate: a cable has at most 64 loads, and the first too many is told") {
  House house = sound();
  house.loads.clear();
  house.scenarios.clear();
  house.readings.clear();
  for (int i = 0; i < 66; ++i) {  // both circuits of the multiwire "Counter"
    house.loads.push_back(load("lamp " + std::to_string(i), i % 2 == 0 ? "Left" : "Right"));
  }
  const std::vector<HouseFault> faults = validate(house, words());
  REQUIRE(faults.size() == 1);
  CHECK(faults.front().subject == Subject{"load", 64, "at"});
  CHECK(faults.front().what == "\"Counter\" has more than 64 loads");
  house.loads.resize(64);
  CHECK(validate(house, words()).empty());
}

TEST_CASE("validate: an empty house is refused, not wired") {
  const auto faults = validate(House{}, words());
  CHECK(!faults.empty());
}

TEST_CASE("described: an entry by name, or by number where it has none") {
  House house = sound();
  CHECK(described({"circuit", 3, "space"}, house) == "circuit \"Den\": space");
  CHECK(described({"supply", 0, "system"}, house) == "supply: system");
  CHECK(described({"reading", 0, "at"}, house) == "reading 1 at \"Main\": at");
  house.loads[3].name = "";
  CHECK(described({"load", 3, ""}, house) == "load 4");
}

}  // namespace evenleg
