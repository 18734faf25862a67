// Each drawing against positions worked out by hand from its rule.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include "evenleg/drawing/legs.h"
#include "evenleg/drawing/multiwire.h"
#include "evenleg/drawing/panel_face.h"
#include "evenleg/drawing/service.h"
#include "evenleg/drawing/volts.h"
#include "tests/drawing/svg_text.h"

namespace evenleg {
namespace {

SupplySystem split_phase() { return {"120/240 split-phase", 120, {{"L1", 0}, {"L2", 180}}, true}; }

Circuit circuit(const std::string& name, int space, int poles = 1) {
  Circuit one;
  one.name = name;
  one.space = space;
  one.poles = poles;
  one.breaker_a = 20;
  return one;
}

// Six spaces: a multiwire in 1 and 3, a two-pole circuit in 2 and 4, 5 and 6 spare.
House small_panel() {
  House house;
  house.supply.system = "120/240 split-phase";
  Panel panel;
  panel.name = "Main";
  panel.spaces = 6;
  house.panels.push_back(panel);
  house.circuits = {circuit("Left", 1), circuit("Right", 3), circuit("Range", 2, 2)};
  Multiwire multiwire;
  multiwire.name = "Counter";
  multiwire.circuits = {"Left", "Right"};
  house.multiwires.push_back(multiwire);
  Outlet outlet;
  outlet.name = "Sink";
  outlet.on = "Left";
  house.outlets.push_back(outlet);
  return house;
}

}  // namespace

TEST_CASE("panel face: every space, its leg, what sits there, multiwires joined, spares") {
  const House house = small_panel();
  const Wiring wiring = wire(house, split_phase());
  const Drawing drawing = draw_panel_face(house, wiring, 0);
  for (const char* text : {">Left</text>", ">Right</text>", ">Range</text>", ">20 A, M1</text>",
                           ">20 A, 1 of 2</text>", ">20 A, 2 of 2</text>"}) {
    CAPTURE(text);
    CHECK(contains(drawing.svg, text));
  }
  CHECK(occurrences(drawing.svg, ">spare</text>") == 2);
  CHECK(occurrences(drawing.svg, ">L1</text>") == 2);  // rows 1 and 3
  CHECK(occurrences(drawing.svg, ">L2</text>") == 1);
  // From the middle of row 1 (62 + 18) to that of row 2, out in the margin.
  CHECK(contains(drawing.svg, "<path d=\"M22.0,80.0 H16.0 V116.0 H22.0\""));
  CHECK(drawing.description ==
        "6 spaces, 2 spare. Space, leg of its row and what sits there: 1 (L1): Left, 20 A, M1; "
        "2 (L1): Range, 20 A, 1 of 2; 3 (L2): Right, 20 A, M1; 4 (L2): Range, 20 A, 2 of 2.");
}

TEST_CASE("panel face: after moves, the spaces that changed are framed") {
  const House before = small_panel();
  House after = before;
  after.circuits[1].space = 5;
  const Wiring wiring = wire(after, split_phase());
  FaceOptions options;
  options.before = &before;
  const std::string svg = draw_panel_face(after, wiring, 0, options).svg;
  CHECK(occurrences(svg, "height=\"27.0\" class=\"ink bold\"") == 2);  // spaces 3 and 5
}

TEST_CASE("service: arrows are as wide as their amperes, and the neutral has the difference") {
  ServiceAmps service;
  service.legs = {{"L1", 60, 119}, {"L2", 20, 121}};
  service.neutral_amps = 40;
  const Drawing drawing = draw_service_wires(service);
  // The widest has 34 units; half of it above its line at 84, 162 (neutral) and 240.
  CHECK(contains(drawing.svg, "M82.0,67.0 H"));    // L1: 84 - 17
  CHECK(contains(drawing.svg, "M398.0,234.3 H"));  // L2 comes back: 240 - 17 * 20 / 60
  CHECK(contains(drawing.svg, "M398.0,150.7 H"));  // neutral: 162 - 17 * 40 / 60
  CHECK(contains(drawing.description, "60.0 A against 20.0 A leaves 40.0 A in the neutral"));
}

TEST_CASE("service: legs of a wye all go out, and nothing is called a difference") {
  ServiceAmps service;
  service.legs = {{"L1", 30, 230}, {"L2", 30, 230}, {"L3", 0, 230}};
  service.neutral_amps = 30;
  service.split_phase = false;
  const Drawing drawing = draw_service_wires(service);
  CHECK(contains(drawing.description, "The phasor sum of the legs leaves 30.0 A"));
  CHECK_FALSE(contains(drawing.svg, "half of the cycle"));
}

TEST_CASE("outlets: bars from lowest to highest, what is past a limit, thirty to a sheet") {
  const std::vector<VoltsSpan> spans{{"Sink", "L1-N", 119.0, 60, 240, 132.0}};
  const Drawing drawing = draw_volts_spans(spans, std::nullopt, "outlets", "Outlets").at(0);
  // 0 to 250 V from 180 to 436: 1.024 units a volt.
  CHECK(contains(drawing.svg, "<rect x=\"241.4\" y=\"110.5\" width=\"184.3\""));  // 60 to 240 V
  CHECK(contains(drawing.svg, "<rect x=\"315.2\" y=\"110.5\" width=\"110.6\""));  // past 132 V
  CHECK(contains(drawing.svg, "<circle cx=\"301.9\""));                          // 119 V
  CHECK(
      contains(drawing.description, "Sink L1-N: 119 V as found, 60.0 to 240 V, withstands 132 V."));
  const std::vector<Drawing> sheets =
      draw_volts_spans(std::vector<VoltsSpan>(100, spans[0]), std::nullopt, "outlets", "Outlets");
  REQUIRE(sheets.size() == 4);
  CHECK(sheets[3].name == "outlets-4");
  CHECK(sheets[3].title == "Outlets (4 of 4)");
  CHECK(occurrences(sheets[3].svg, "class=\"hollow\"") == 10);
  CHECK(draw_volts_spans({}, std::nullopt, "outlets", "Outlets").empty());
}

TEST_CASE("neutral ohms: a logarithmic axis, the limit and what was measured at their ohms") {
  House house = small_panel();
  Load lamp;
  lamp.name = "Lamp";
  lamp.at = "Sink";
  house.loads.push_back(lamp);
  NeutralDepth depth;
  depth.place.name = "service";
  for (const double added : {0.0, 1.0, kOpen}) {
    NeutralPoint point;
    point.added = ohms(added);
    point.legs = {{"L1", amps(10), volts(added == 0 ? 120 : 100)},
                  {"L2", amps(5), volts(added == 0 ? 120 : 140)}};
    depth.curve.push_back(point);
  }
  depth.high = NeutralLimit{ohms(1), 0, volts(132), {}, true};
  const Drawing drawing = draw_neutral_ohms(house, depth, VoltsBand{110, 126, "here"}, 0.1);
  // 0.01 to 100 ohms from 44 to 398: 88.5 units a decade.
  CHECK(contains(drawing.svg, "<line x1=\"221.0\" y1=\"84.0\" x2=\"221.0\""));  // 1 ohm
  CHECK(contains(drawing.svg, "<line x1=\"132.5\" y1=\"84.0\" x2=\"132.5\""));  // 0.1 ohm measured
  CHECK(contains(drawing.description,
                 "At 1.00 ohms added, \"Lamp\" reaches the 132 V that it withstands. The readings "
                 "give 0.100 ohms beyond its run."));
}

TEST_CASE("readings: measured filled, expected hollow, one sign for each leg") {
  House house = small_panel();
  Reading reading;
  reading.at = "Main";
  reading.label = "heater on L1";
  house.readings.push_back(reading);
  Estimation estimation;
  estimation.volts = {{0, "l1_n_volts", 115, 115, 119},
                      {0, "l2_n_volts", 125, 125, 121},
                      {0, "l1_l2_volts", 240, 240, 240}};
  const auto drawing = draw_readings(house, split_phase(), estimation);
  REQUIRE(drawing);
  // 114 to 126 V in steps of 2 would be six; from 192 to 452: 115 to 125 V is 114 to 126.
  CHECK(contains(drawing->svg, "<circle cx=\"213.7\""));  // 115: 192 + 260 / 12
  CHECK(contains(drawing->svg, "<circle cx=\"300.3\""));  // 119: 192 + 5 * 260 / 12
  CHECK(contains(drawing->svg, "heater on L1"));
  CHECK(contains(drawing->description, "L1: 115.0 V measured, 119.0 V expected"));
  CHECK(contains(drawing->description, "L2: 125.0 V measured, 121.0 V expected"));
  CHECK(occurrences(drawing->svg, "class=\"hollow\"") == 2);
  CHECK(occurrences(drawing->svg, "class=\"mark\"") == 4);  // two of the key, two measured
  estimation.volts.resize(0);
  CHECK_FALSE(draw_readings(house, split_phase(), estimation));
}

TEST_CASE("multiwire: the break is marked, the box behind it and each outlet told") {
  const House house = small_panel();
  const Wiring wiring = wire(house, split_phase());
  Place place{"Counter", PlaceKind::SharedRun, 0, 0, 1};
  const std::vector<OutletChange> changes{{"Sink", "L1-N", 119, 57, 203.0, 132.0}};
  const Drawing drawing = draw_multiwire(house, wiring, place, changes);
  CHECK(contains(drawing.svg, "the shared neutral is open here"));
  CHECK(contains(drawing.svg, ">Sink</text>"));
  CHECK(occurrences(drawing.svg, "class=\"past\"") == 1);
  CHECK(
      contains(drawing.description, "Sink L1-N: 119 V whole, 57.0 V open, a load at most 203 V."));
}

TEST_CASE("legs by scenario: bars before and after, and the limit") {
  const std::vector<LegLoads> before{{"as found", {50, 30}, {}}}, after{{"as found", {41, 39}, {}}};
  const Drawing drawing = draw_legs_by_scenario(split_phase(), before, after, 100.0);
  // 0 to 100 A from 40 to 370: 3.3 units an ampere.
  CHECK(contains(drawing.svg, "width=\"165.0\""));
  CHECK(contains(drawing.svg, "width=\"99.0\""));
  CHECK(contains(drawing.description,
                 "as found: L1 50.0 A and L2 30.0 A, after the moves L1 41.0 A "
                 "and L2 39.0 A; limit 100 A a leg."));
}

TEST_CASE("legs by hour: means of each hour that the log has, none without a clock") {
  LogResult log;
  log.has_amps = true;
  log.by_hour[7] = {10, {120, 121}, 10, {20, 10}};
  const auto drawing = draw_legs_by_hour(split_phase(), log);
  REQUIRE(drawing);
  CHECK(contains(drawing->description, "7 h: L1 20.0, L2 10.0"));
  CHECK_FALSE(contains(drawing->description, "8 h"));
  log.has_clock = false;
  CHECK_FALSE(draw_legs_by_hour(split_phase(), log));
}

}  // namespace evenleg
