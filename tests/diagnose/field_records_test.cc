// Readings that others report, and what they are taken to show. B5 of the published checks is an
// examination's question; the rest are records of the trade as told on its pages: common practice,
// without a printed answer to hold a digit against.
#include <doctest/doctest.h>

#include <algorithm>

#include "evenleg/describe/describe.h"
#include "evenleg/diagnose/diagnose.h"
#include "tests/check.h"

namespace evenleg {
namespace {

const Tables& tables() {
  static const Tables all = load_tables();
  return all;
}

Diagnosis judged(const std::string& text) {
  const House house = read_description("format = 1\nhouse = {name = \"Wren\"}\n" + text, "record",
                                       vocabulary(tables()));
  return diagnose(house, tables());
}

bool any_holds(const std::vector<std::string>& sentences, const std::string& part) {
  return std::any_of(sentences.begin(), sentences.end(), [&](const std::string& sentence) {
    return sentence.find(part) != std::string::npos;
  });
}

constexpr const char* kPanel = R"(
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 8}]
)";

// Source: paper of the Japanese electrician qualification, class 2, 2018, second term, question 27:
// on 100/200 V a 100 V appliance reads 120 V. Official choice: the neutral is open, not a leg.
TEST_CASE("published: 120 V across a 100 V appliance on 100/200 V is an open neutral, not a leg") {
  const std::string house = R"(
supply = {system = "100/200 split-phase"}
panel = [{name = "Main", spaces = 8}]
circuit = [{name = "Room", space = 1}]
outlet = [{name = "Wall", on = "Room"}]
load = [{name = "Appliance", at = "Wall", watts = 300}]
)";
  for (const char* at : {"Main", "Wall"}) {
    CAPTURE(at);
    const Diagnosis alone =
        judged(house + "reading = [{at = \"" + at + "\", on = [\"Appliance\"], l1_n_volts = 120}]");
    REQUIRE_FALSE(alone.patterns.empty());
    CHECK(alone.patterns.front().name == "service neutral");
    const auto hot =
        std::find_if(alone.patterns.begin(), alone.patterns.end(),
                     [](const PatternMatch& one) { return one.name == "service hot"; });
    CHECK(hot == alone.patterns.end());
  }
  const Diagnosis both = judged(house + R"(
reading = [{at = "Main", l1_n_volts = 120, l2_n_volts = 80, l1_l2_volts = 200}])");
  REQUIRE_FALSE(both.patterns.empty());
  CHECK(both.patterns.front().name == "service neutral");
}

// An electricians' forum: near 0 V from neutral to ground, about 70 V with a hair dryer of about 16
// ohms on, hot to ground about 120 V. By ratio 16 x 70 / 50 = 22.4 ohms: "about 22".
TEST_CASE("common practice: 70 V from neutral to ground with a hair dryer on is about 22 ohms") {
  const Diagnosis diagnosis = judged(std::string(kPanel) + R"(
circuit = [{name = "Bath", space = 1, conductor = "12 Cu", length_ft = 40}]
outlet = [{name = "Basin", on = "Bath"}]
load = [{name = "Hair dryer", at = "Basin", ohms = 16}]
reading = [
  {at = "Basin", l1_n_volts = 120, neutral_ground_volts = 0, l1_ground_volts = 120},
  {at = "Basin", on = ["Hair dryer"], l1_n_volts = 50, neutral_ground_volts = 70, l1_ground_volts = 120},
])");
  const ConductorEstimate* neutral = nullptr;
  for (const SectionEstimate& section : diagnosis.estimation.sections) {
    if (section.to == "Basin" && section.find("N") != nullptr) neutral = section.find("N");
  }
  REQUIRE(neutral != nullptr);
  CHECK(matches_printed(neutral->ohms, "22"));
  CHECK(diagnosis.patterns.front().name == "branch joint");
}

// An electrician's letter to a client: 118 V across a corroded neutral splice at the service
// entrance, while the furnace read 205 V where 120 V belongs.
TEST_CASE("common practice: 118 V across a splice, 205 V at the furnace") {
  const Diagnosis diagnosis = judged(std::string(kPanel) + R"(
circuit = [{name = "Furnace", space = 1}]
outlet = [{name = "Furnace switch", on = "Furnace"}]
load = [{name = "Blower", at = "Furnace switch", watts = 400}]
reading = [
  {at = "Main", joint_volts = 118},
  {at = "Furnace switch", on = ["Blower"], l1_n_volts = 205},
])");
  REQUIRE_FALSE(diagnosis.patterns.empty());
  CHECK(diagnosis.patterns.front().name == "service neutral");
  REQUIRE(diagnosis.joints.size() == 1);
  CHECK(diagnosis.joints.front().volts == 118);
  CHECK_FALSE(diagnosis.joints.front().watts.has_value());  // nothing says what it carried
}

// A column of a contractors' association: an outlet at 243 V on a multiwire with a loose neutral.
TEST_CASE("common practice: 243 V at an outlet of a multiwire circuit") {
  const Diagnosis diagnosis = judged(std::string(kPanel) + R"(
circuit = [{name = "One", space = 1}, {name = "Two", space = 3}]
multiwire = [{name = "Pair", circuits = ["One", "Two"]}]
outlet = [{name = "Wall", on = "One"}, {name = "Bench", on = "Two"}]
load = [{name = "Saw", at = "Bench", watts = 1200}]
reading = [{at = "Wall", on = ["Saw"], l1_n_volts = 243}])");
  REQUIRE_FALSE(diagnosis.patterns.empty());
  CHECK(diagnosis.patterns.front().name == "multiwire neutral");
}

// A contractors' forum: a panel whose neutral was never connected at the source read 115.6, 117.8
// and 117.6 V to neutral with everything off; a tester that loads the circuit read nothing.
TEST_CASE("common practice: normal volts of a high-impedance meter with nothing on prove little") {
  const std::string wye = R"(
supply = {system = "120/208 wye"}
panel = [{name = "Main", spaces = 12}]
)";
  const Diagnosis digital = judged(wye + R"(
[[reading]]
at = "Main"
l1_n_volts = 115.6
l2_n_volts = 117.8
l3_n_volts = 117.6
meter_input = "high impedance"
)");
  CHECK(any_holds(digital.traps, "open neutral"));
  CHECK(digital.verdict.find("consistent with") == std::string::npos);
  const Diagnosis loading = judged(wye + R"(
[[reading]]
at = "Main"
l1_n_volts = 115.6
l2_n_volts = 117.8
l3_n_volts = 117.6
meter_input = "low impedance"
)");
  CHECK_FALSE(any_holds(loading.traps, "open neutral"));
}

// Electricians' forums: 2.6 A, 4 A and 5 A on water services. Gone with the main off: this house's;
// still there: a neighbour's.
TEST_CASE("common practice: current on a water pipe with the main on and off") {
  const auto pipe = [](const char* off) {
    return judged(std::string(kPanel) + "reading = [{at = \"Main\", water_pipe_amps = 4.0}, " +
                  "{at = \"Main\", main_off = true, water_pipe_amps = " + off + "}]");
  };
  CHECK(any_holds(pipe("0.0").beside, "this house's own neutral current"));
  CHECK(any_holds(pipe("3.9").beside, "from elsewhere"));
  CHECK(any_holds(pipe("1.2").beside, "part of it"));
  const Diagnosis on =
      judged(std::string(kPanel) + R"(reading = [{at = "Main", electrode_amps = 2.6}])");
  CHECK(any_holds(on.beside, "main off tells"));
}

// By hand: 12 A through 1.2 ohm that the meter sees, 14.4 V; beside 25 ohm the conductor alone has
// 1 / (1 / 1.2 - 1 / 25) = 1.26 ohm.
TEST_CASE("a described earth return: what the conductor alone would be") {
  const Diagnosis diagnosis = judged(std::string(kPanel) + R"(
service = {hot_ohms = 0.05, earth_return_ohms = 25}
reading = [
  {at = "Main", l1_n_volts = 120, l2_n_volts = 120, l1_l2_volts = 240},
  {at = "Main", l1_n_volts = 105, l2_n_volts = 134.4, l1_l2_volts = 239.4, l1_amps = 12},
  {at = "Main", l1_n_volts = 134.4, l2_n_volts = 105, l1_l2_volts = 239.4, l2_amps = 12},
])");
  CHECK(any_holds(diagnosis.beside, "conductor alone would be 1.26"));
}

// By hand: 118.9 + 122.0 = 240.9; 236.0 does not agree with it.
TEST_CASE("legs that do not add up are told") {
  const auto sum = [](const char* across) {
    return judged(std::string(kPanel) + "reading = [{at = \"Main\", l1_n_volts = 118.9, " +
                  "l2_n_volts = 122.0, l1_l2_volts = " + across + ", l1_amps = 12}]");
  };
  CHECK_FALSE(any_holds(sum("240.9").traps, "add up"));
  CHECK(any_holds(sum("230.0").traps, "add up to 240.9 V"));
}

}  // namespace
}  // namespace evenleg
