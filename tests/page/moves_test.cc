// Circuits dropped on spaces. Legs by the rule of the house description: spaces 1 and 2 on L1, 3
// and 4 on L2, and so on down the panel.
#include "src/page/moves.h"

#include "evenleg/balance/balance.h"
#include "evenleg/base/error.h"
#include "evenleg/house/validate.h"
#include "tests/page/page_house.h"

namespace evenleg {
namespace {

using page_test::tables;

const Vocabulary& words() {
  static const Vocabulary kWords = vocabulary(tables());
  return kWords;
}

House small_house() { return read_description(page_test::kSmallHouse, "test", words()); }

int space_of(const House& house, const std::string& name) {
  for (const Circuit& circuit : house.circuits) {
    if (circuit.name == name) return circuit.space.value_or(0);
  }
  return -1;
}

// With a load at an outlet of both circuits that names its leg.
House house_with_hood() {
  House house = small_house();
  house.outlets.push_back({"Hood", "Counter", {}, {}});
  Load hood = house.loads[2];
  hood.name = "Hood";
  hood.at = "Hood";
  hood.circuit = "Left";
  hood.connect = "L1-N";
  house.loads.push_back(hood);
  return house;
}

TEST_CASE("onto a free space") {
  const House moved = with_drops(small_house(), {{"Den", 7, {}}}, words());
  CHECK(space_of(moved, "Den") == 7);
  CHECK(validate(moved, words()).empty());
}

TEST_CASE("onto another circuit: they change places") {
  const House moved = with_drops(small_house(), {{"Den", 3, {}}}, words());
  CHECK(space_of(moved, "Den") == 3);
  CHECK(space_of(moved, "Right") == 5);
}

TEST_CASE("the fewest drops build the same house, and none where all is as it was") {
  const House before = house_with_hood();
  const std::vector<Drop> there{{"Den", 3, {}}, {"Dryer", 6, {}}, {"Den", 7, {}}};
  const House after = with_drops(before, there, words());
  const std::vector<Drop> fewest = fewest_drops(before, after, there);
  CHECK(fewest.size() == 3);  // Den, Right where Den was, and Dryer
  CHECK(with_drops(before, fewest, words()) == after);
  const std::vector<Drop> to_and_fro{{"Den", 3, {}}, {"Den", 5, {}}};
  const House same = with_drops(before, to_and_fro, words());
  CHECK(fewest_drops(before, same, to_and_fro).empty());
}

TEST_CASE("a two-pole circuit onto two single ones") {
  const House moved = with_drops(small_house(), {{"Dryer", 1, {}}}, words());
  CHECK(space_of(moved, "Dryer") == 1);
  CHECK(space_of(moved, "Left") == 2);
  CHECK(space_of(moved, "Right") == 4);
  CHECK(validate(moved, words()).empty());
}

// One row down its poles have the legs the other way round: the lamp that was on its first pole,
// L1, is on its first pole still, now L2.
TEST_CASE("a two-pole circuit slid by one row takes the loads on its poles with it") {
  const House moved = with_drops(small_house(), {{"Dryer", 4, {}}}, words());
  CHECK(space_of(moved, "Dryer") == 4);
  CHECK(moved.loads[2].connect == "L2-N");
}

TEST_CASE("a two-pole circuit slid onto its neighbour: that takes the space it leaves") {
  House house = small_house();
  house.circuits[3].space = 6;
  const House moved = with_drops(house, {{"Dryer", 4, {}}}, words());
  CHECK(space_of(moved, "Dryer") == 4);
  CHECK(space_of(moved, "Den") == 2);
}

TEST_CASE("what cannot be is refused") {
  const House house = small_house();
  CHECK_THROWS_AS(with_drops(house, {{"Den", 2, {}}}, words()), Error);   // half of the dryer
  CHECK_THROWS_AS(with_drops(house, {{"Den", 13, {}}}, words()), Error);  // beyond the panel
  CHECK_THROWS_AS(with_drops(house, {{"Den", 0, {}}}, words()), Error);
  CHECK_THROWS_AS(with_drops(house, {{"Dryer", 12, {}}}, words()), Error);  // its second pole
  CHECK_THROWS_AS(with_drops(house, {{"Attic", 7, {}}}, words()), Error);
  CHECK_THROWS_AS(with_drops(house, {{"Den", 7, "Barn"}}, words()), Error);
}

TEST_CASE("one after the other") {
  const House moved = with_drops(small_house(), {{"Den", 7, {}}, {"Left", 5, {}}}, words());
  CHECK(space_of(moved, "Den") == 7);
  CHECK(space_of(moved, "Left") == 5);
}

// A plan's moves are meant at once: one after the other the second would find its space taken.
TEST_CASE("a plan's moves, each circuit where another was, are made at once") {
  const House house = small_house();
  const House moved = with_drops(
      house, {{"Left", 2, {}, {}, true}, {"Right", 4, {}, {}, true}, {"Dryer", 1, {}, {}, true}},
      words());
  CHECK(space_of(moved, "Left") == 2);
  CHECK(space_of(moved, "Right") == 4);
  CHECK(space_of(moved, "Dryer") == 1);
  CHECK(validate(moved, words()).empty());
}

TEST_CASE("every plan of the program can be tried and gives its spread") {
  // With a load that names legs of a multiwire, which both of its circuits' moves rename.
  const House house = house_with_hood();
  REQUIRE(validate(house, words()).empty());
  const Balance result = balance(house, tables());
  REQUIRE(!result.plans.empty());
  for (const BalancePlan& plan : result.plans) {
    std::vector<Drop> drops;
    for (const CircuitMove& move : plan.moved) {
      drops.push_back({house.circuits[static_cast<std::size_t>(move.circuit)].name,
                       move.to_space,
                       {},
                       {},
                       true});
    }
    CHECK(with_drops(house, drops, words()) == with_plan(house, plan));
  }
}

TEST_CASE("circuits of a multiwire exchanged at once: a load stays on its circuit") {
  const House house = house_with_hood();
  const House moved =
      with_drops(house, {{"Left", 3, {}, {}, true}, {"Right", 1, {}, {}, true}}, words());
  CHECK(moved.loads.back().connect == "L2-N");
  CHECK(with_drops(house, {{"Left", 3, {}}}, words()) == moved);
}

TEST_CASE("a later drop takes back nothing that an earlier exchange did") {
  const House moved = with_drops(small_house(), {{"Den", 3, {}}, {"Den", 7, {}}}, words());
  CHECK(space_of(moved, "Right") == 5);
  CHECK(space_of(moved, "Den") == 7);
}

TEST_CASE("two hots of a multiwire on one leg are told") {
  const House house = small_house();
  const House moved = with_drops(house, {{"Right", 9, {}}}, words());  // row 5, L1, as "Left"
  REQUIRE(drop_notes(house, moved, words()).size() == 1);
  CHECK(drop_notes(house, house, words()).empty());
}

TEST_CASE("into another panel") {
  House house = small_house();
  house.panels.push_back(house.panels[0]);
  house.panels[1].name = "Barn";
  house.panels[1].fed_from = "Main";
  const House moved = with_drops(house, {{"Den", 1, "Barn"}}, words());
  CHECK(moved.circuits[3].panel == "Barn");
  CHECK(space_of(moved, "Den") == 1);
  CHECK_THROWS_AS(
      with_drops(house, {{"Den", 1, "Main"}, {"Left", 1, "Barn"}, {"Den", 1, "Barn"}}, words()),
      Error);
}

}  // namespace
}  // namespace evenleg
