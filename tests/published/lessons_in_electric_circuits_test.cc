// Source: T. R. Kuphaldt, Lessons In Electric Circuits, volume II (AC), chapter 10 "Polyphase AC
// circuits", and volume I (DC), chapter 10 "DC network analysis". Figures by their file numbers.
#include <doctest/doctest.h>

#include <string_view>

#include "tests/check.h"
#include "tests/published/described_house.h"

namespace evenleg {
namespace {

// Volume II, "Single-phase power systems", figures 02168 and 12111: two 10 kW loads on 120 V each.
// Printed: 83.33 A in each hot wire, 0 A in the neutral, 240 V between the hots.
TEST_CASE("Kuphaldt, single-phase power systems: two equal loads on 120/240 V") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase"}
load = [{name = "load 1", at = "L1", watts = 10000}, {name = "load 2", at = "L2", watts = 10000}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "83.33"));
  CHECK(matches_printed(solved.leg_amps("L2"), "83.33"));
  CHECK(matches_printed(solved.neutral_amps(), "0.00"));
  CHECK(matches_printed(solved.between_legs("L1", "L2"), "240"));
}

// The same loads in parallel on one 120 V source. Printed: 166.66 A, twice the rounded 83.33 A;
// 20 kW / 120 V = 166.667 A.
TEST_CASE("Kuphaldt, single-phase power systems: the same loads in parallel on 120 V") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/240 split-phase"}
load = [{name = "load 1", at = "L1", watts = 10000}, {name = "load 2", at = "L1", watts = 10000}]
)");
  const Amps leg = house.intact().leg_amps("L1");
  CHECK_FALSE(matches_printed(leg, "166.66"));
  CHECK(matches_printed(leg, "166.67"));
}

// Volume II, "Three-phase power systems", figures 02171, 02172, 12113, 12114: sources of 120 V at 0
// and 120 degrees, two loads of 1.44 ohms. Printed: 83.33 A in each leg and 83.33 A at 240 degrees
// in the neutral, there counted towards the loads; 207.85 V between the hots.
TEST_CASE("Kuphaldt, three-phase power systems: two legs of a wye do not cancel") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "120/208 wye"}
load = [{name = "at 0", at = "L1", ohms = 1.44}, {name = "at 120", at = "L3", ohms = 1.44}]
)");
  const SolvedHouse solved = house.intact();
  CHECK(matches_printed(solved.leg_amps("L1"), "83.33"));
  CHECK(matches_printed(solved.leg_amps("L3"), "83.33"));
  CHECK(matches_printed(solved.neutral_amps(), "83.33"));
  CHECK(matches_printed_angle(-solved.neutral_current(), "240"));
  CHECK(matches_printed(solved.between_legs("L1", "L3"), "207.85"));
}

// Volume II, "Three-phase Y and delta configurations", figure 02201: three equal resistances in
// star, one source winding open. Printed: 104, 104 and 0 V. The third carries nothing, so this is
// two equal loads on two legs of a wye with their neutral open.
TEST_CASE("Kuphaldt, three-phase Y and delta: star load with one winding open") {
  const DescribedHouse house(kTwoLegs, R"(
supply = {system = "120/208 two-leg"}
load = [{name = "load 1", at = "L1", ohms = 10}, {name = "load 2", at = "L2", ohms = 10}]
)");
  const SolvedHouse solved = house.neutral_open();
  CHECK(matches_printed(solved.load_volts("load 1"), "104"));
  CHECK(matches_printed(solved.load_volts("load 2"), "104"));
}

// Figure 02202: the same with the resistances in delta. Printed: 208, 104 and 104 V. The two that
// meet at the dead line are in series there as two loads are at an open neutral.
TEST_CASE("Kuphaldt, three-phase Y and delta: delta load with one winding open") {
  const DescribedHouse house(kTwoLegsAndAcross, R"(
supply = {system = "120/208 two-leg"}
load = [{name = "load 1", at = "L1", ohms = 10}, {name = "load 2", at = "L2", ohms = 10},
        {name = "load 12", at = "Across", ohms = 10}]
)");
  const SolvedHouse solved = house.neutral_open();
  CHECK(matches_printed(solved.load_volts("load 12"), "208"));
  CHECK(matches_printed(solved.load_volts("load 1"), "104"));
  CHECK(matches_printed(solved.load_volts("load 2"), "104"));
}

// Volume II, listing "120/208 polyphase power system": three loads of 1.44 ohms in star with no
// neutral. Printed: 120.0 V across each, 207.8 V between lines, 83.33 A.
TEST_CASE("Kuphaldt, 120/208 polyphase listing: equal loads need no neutral") {
  const DescribedHouse house(kThreeLegs, R"(
supply = {system = "120/208 wye"}
load = [{name = "load 1", at = "L1", ohms = 1.44}, {name = "load 2", at = "L2", ohms = 1.44},
        {name = "load 3", at = "L3", ohms = 1.44}]
)");
  const SolvedHouse solved = house.neutral_open();
  for (const std::string_view load : {"load 1", "load 2", "load 3"}) {
    CAPTURE(load);
    CHECK(matches_printed(solved.load_volts(load), "120.0"));
    CHECK(matches_printed(solved.load_amps(load), "83.33"));
  }
  CHECK(matches_printed(solved.between_legs("L1", "L2"), "207.8"));
}

// Volume I, "Millman's theorem", figures 10189 to 10191: 28 V behind 4 ohms and 7 V behind 1 ohm,
// of the same polarity, into a common 2 ohms. Printed: 8 V at the common node; 5 A, 1 A reversed, 4
// A. No supply system has two legs of one angle, so the network is made by hand: the 4 and 1 ohms
// are the loads, the 2 ohms the neutral that both return in.
TEST_CASE("Kuphaldt, Millman's theorem: two branches of the same polarity add in their return") {
  Model model;
  model.source = {28, 7};
  model.source_impedance = Matrix::Zero(2, 2);
  model.panels = {{-1, {0, 1}, {0, 2}}};
  for (int leg : {0, 1}) {
    model.cables.push_back({{{leg, 0, leg}}, 0, {{-1, {0}, {}, {}}, {0, {0}, {}, {leg}}}, {leg}});
  }
  model.loads.resize(2);
  model.loads[0].box = model.loads[1].box = 1;
  model.loads[1].cable = 1;
  const std::vector<Complex> admittances = {1.0 / 4, 1.0};
  for (const auto engine : {solve, solve_sparse}) {
    const Solution solved = engine(model, admittances, std::nullopt);
    CHECK(matches_printed(solved.panels[0].neutral.real(), "8"));
    CHECK(matches_printed(solved.load_amps[0].real(), "5"));
    CHECK(matches_printed(solved.load_amps[1].real(), "-1"));
    CHECK(matches_printed(solved.service_neutral_amps.real(), "4"));
  }
}

}  // namespace
}  // namespace evenleg
