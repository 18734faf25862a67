// What is missing is told apart from what is wrong; what hangs on a thing goes with it.
#include "evenleg/edit/unfinished.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "evenleg/base/error.h"
#include "evenleg/edit/edit.h"
#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

const Vocabulary& words() {
  static const Tables kTables = load_tables();
  static const Vocabulary kWords = vocabulary(kTables);
  return kWords;
}

House small_house() {
  House house;
  house.about["name"] = "small";
  house.supply.system = "120/240 split-phase";
  house.panels.resize(1);
  house.panels[0].name = "Main";
  house.panels[0].spaces = 8;
  house.circuits.resize(2);
  house.circuits[0].name = "A";
  house.circuits[0].space = 1;
  house.circuits[1].name = "B";
  house.circuits[1].space = 3;
  house.multiwires.push_back({"Pair", {"A", "B"}, {}, "unknown", {}});
  house.outlets.push_back({"First", "Pair", {}, {}});
  house.outlets.push_back({"Second", "A", {}, {}});
  house.outlets.push_back({"Third", "A", "Second", {}});
  Load lamp;
  lamp.name = "Lamp";
  lamp.at = "Second";
  lamp.watts = 60;
  house.loads.push_back(lamp);
  lamp.name = "Kettle";
  lamp.at = "First";
  lamp.circuit = "B";
  house.loads.push_back(lamp);
  house.scenarios.push_back({"Evening", {"Lamp", "Kettle"}, {}});
  return house;
}

// All faults are missing things, and there is at least one.
bool only_missing(const House& house) {
  const auto faults = validate(house, words());
  return !faults.empty() && std::all_of(faults.begin(), faults.end(), [&](const HouseFault& fault) {
    return is_missing(house, fault);
  });
}

bool some_wrong(const House& house) {
  const auto faults = validate(house, words());
  return std::any_of(faults.begin(), faults.end(),
                     [&](const HouseFault& fault) { return !is_missing(house, fault); });
}

TEST_CASE("a finished house has nothing missing") {
  CHECK(validate(small_house(), words()).empty());
}

TEST_CASE("what is not entered yet is missing") {
  SUBCASE("a load's rating") {
    House house = small_house();
    house.loads[0].watts.reset();
    CHECK(only_missing(house));
  }
  SUBCASE("a circuit's space") {
    House house = small_house();
    house.circuits[0].space.reset();
    CHECK(only_missing(house));
  }
  SUBCASE("the second circuit of a multiwire") {
    House house = small_house();
    house.multiwires[0].circuits = {"A"};
    house.loads[1].circuit = "A";
    CHECK(only_missing(house));
  }
  SUBCASE("the circuit of a load at an outlet of both") {
    House house = small_house();
    house.loads[1].circuit.reset();
    CHECK(only_missing(house));
  }
  SUBCASE("what feeds a panel") {
    House house = small_house();
    house.panels.push_back(house.panels[0]);
    house.panels[1].name = "Barn";
    CHECK(only_missing(house));
  }
  SUBCASE("the house's name") {
    House house = small_house();
    house.about.clear();
    CHECK(only_missing(house));
  }
  SUBCASE("a transformer's rating") {
    House house = small_house();
    house.supply.transformer.emplace();
    CHECK(only_missing(house));
  }
}

TEST_CASE("what is entered wrongly is not missing") {
  SUBCASE("a space that is taken") {
    House house = small_house();
    house.circuits[1].space = 1;
    CHECK(some_wrong(house));
  }
  SUBCASE("two ratings") {
    House house = small_house();
    house.loads[0].amps = 1;
    CHECK(some_wrong(house));
  }
  SUBCASE("a value out of its range") {
    House house = small_house();
    house.loads[0].watts = -60;
    CHECK(some_wrong(house));
  }
  SUBCASE("a name that leads nowhere") {
    House house = small_house();
    house.loads[0].at = "Attic";
    CHECK(some_wrong(house));
  }
  SUBCASE("a conductor that there is not") {
    House house = small_house();
    house.circuits[0].run.conductor = "13 Cu";
    CHECK(some_wrong(house));
  }
  SUBCASE("a circuit that leads nowhere, alone in a multiwire") {
    House house = small_house();
    house.multiwires[0].circuits = {"C"};
    CHECK(some_wrong(house));
  }
}

TEST_CASE("what an answer takes for granted is listed, and ends with being given") {
  House house = small_house();
  const auto of = [&](const char* kind, const char* key) {
    const auto all = taken_for_granted(house);
    return std::count_if(all.begin(), all.end(), [&](const HouseFault& one) {
      return one.subject.kind == kind && one.subject.key == key;
    });
  };
  CHECK(of("service", "conductor") == 1);
  CHECK(of("circuit", "breaker_a") == 2);
  CHECK(of("multiwire", "conductor") == 1);
  house.multiwires[0].run.conductor = "12 Cu";
  CHECK(of("multiwire", "conductor") == 0);
  CHECK(of("multiwire", "length_ft") == 1);
  house.multiwires[0].run.length_ft = 30;
  CHECK(of("multiwire", "length_ft") == 0);
  // The lamp stands on circuit A, the kettle on the shared run and names B.
  CHECK(of("circuit", "") == 0);
  house.loads[1].circuit.reset();  // it may draw from either
  house.loads[0].at = "First";
  CHECK(of("circuit", "") == 0);
  for (Load& load : house.loads) load.circuit = "B";
  CHECK(of("circuit", "") == 1);
  house.loads[1].connect = "L1-L2";  // and so from both
  CHECK(of("circuit", "") == 0);
  house.loads.clear();
  CHECK(of("circuit", "") == 2);
}

Edit removal(const char* kind, const char* name) {
  Edit edit{Verb::Remove, kind, name, {}, {}};
  edit.with_uses = true;
  return edit;
}

TEST_CASE("what hangs on a removed thing goes with it") {
  House house = small_house();
  SUBCASE("an outlet: its loads go, what follows it moves up") {
    apply(removal("outlet", "Second"), house);
    REQUIRE(house.outlets.size() == 2);
    CHECK(house.loads.size() == 1);
    CHECK(house.scenarios[0].on == std::vector<std::string>{"Kettle"});
    CHECK_FALSE(some_wrong(house));
  }
  SUBCASE("a circuit: its outlets, loads and place in the multiwire") {
    apply(removal("circuit", "A"), house);
    CHECK(house.circuits.size() == 1);
    CHECK(house.outlets.size() == 1);
    CHECK(house.loads.size() == 1);
    CHECK(house.multiwires[0].circuits == std::vector<std::string>{"B"});
  }
  SUBCASE("a multiwire: its own outlets, not its circuits") {
    apply(removal("multiwire", "Pair"), house);
    CHECK(house.circuits.size() == 2);
    CHECK(house.outlets.size() == 2);
    CHECK(house.loads.size() == 1);
  }
}

std::optional<std::string> after(const House& house, const std::string& name) {
  for (const Outlet& outlet : house.outlets) {
    if (outlet.name == name) return outlet.after;
  }
  return "not there";
}

// A, then B, C and D. In the list D follows C; without C it would follow B, 100 ft further out.
TEST_CASE("what is left keeps its place on the cable when an outlet goes") {
  House house = small_house();
  house.outlets = {
      {"A", "A", {}, {}}, {"B", "A", "A", {}}, {"C", "A", "A", {}}, {"D", "A", {}, {}}};
  house.loads.clear();
  house.scenarios.clear();
  SUBCASE("one in the middle: its follower moves up to its own upstream") {
    apply(removal("outlet", "C"), house);
    CHECK(after(house, "B") == "A");
    CHECK(after(house, "D") == "A");
  }
  SUBCASE("the first, with two branches: that cannot be described") {
    CHECK_THROWS_AS(apply(removal("outlet", "A"), house), Error);
  }
  SUBCASE("the first, with one: that begins at the panel") {
    house.outlets = {{"A", "A", {}, {}}, {"B", "A", {}, {}}, {"C", "A", {}, {}}};
    apply(removal("outlet", "A"), house);
    CHECK_FALSE(after(house, "B").has_value());
    CHECK_FALSE(after(house, "C").has_value());
  }
  SUBCASE("all of them with their circuit") {
    house.multiwires.clear();
    apply(removal("circuit", "A"), house);
    CHECK(house.outlets.empty());
  }
}

TEST_CASE("what a reading names is not removed with anything") {
  House house = small_house();
  Reading reading;
  SUBCASE("where it was read") { reading.at = "Second"; }
  SUBCASE("what was on") {
    reading.at = "Main";
    reading.on = {"Lamp"};
  }
  house.readings.push_back(reading);
  CHECK_THROWS_AS(apply(removal("circuit", "A"), house), Error);
}

}  // namespace
}  // namespace evenleg
