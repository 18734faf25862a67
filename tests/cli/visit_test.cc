// The questions of a visit and how answers go into the house, without a terminal.
#include <doctest/doctest.h>

#include <algorithm>

#include "evenleg/describe/describe.h"
#include "evenleg/house/validate.h"
#include "evenleg/tables/tables.h"
#include "src/cli/visit_answers.h"
#include "src/cli/visit_questions.h"

namespace evenleg {
namespace {

constexpr const char* kNow = "2026-03-14T10:20:00";

struct Visited {
  explicit Visited(const std::string& system = "120/240 split-phase")
      : words(vocabulary(tables)),
        house(read_description(
            "format = 1\nhouse = {name = \"Larkrise\"}\nsupply = {system = \"" + system + R"("}
panel = [{name = "Main", spaces = 12}]
circuit = [{name = "Den", space = 1}]
outlet = [{name = "Den wall", on = "Den"}]
load = [{name = "Heater", at = "Den wall", watts = 1500}, {name = "Lamp", at = "Den wall", watts = 60}]
)",
            "visited", words)),
        wiring(wire(house, *find_system(words, house.supply.system))) {}

  [[nodiscard]] std::vector<Question> questions() const {
    return visit_questions(house, wiring, "visit");
  }
  [[nodiscard]] std::size_t find(const std::string& part, const std::string& prompt) const {
    const auto all = questions();
    const auto found = std::find_if(all.begin(), all.end(), [&](const Question& question) {
      return question.part == part && question.prompt.starts_with(prompt);
    });
    REQUIRE(found != all.end());
    return static_cast<std::size_t>(found - all.begin());
  }
  Judged judge(std::size_t question, const std::string& answer, bool sure = false) const {
    return judge_answer(house, wiring, questions()[question], answer, kNow, sure);
  }
  void give(std::size_t question, const std::string& answer) {
    const Judged judged = judge(question, answer);
    REQUIRE(std::holds_alternative<Accepted>(judged));
    house = std::get<Accepted>(judged).house;
    CHECK(validate(house, words).empty());
  }

  Tables tables = load_tables();
  Vocabulary words;
  House house;
  Wiring wiring;
};

TEST_CASE("an answer is where the next visit goes on from") {
  Visited visit;
  CHECK(where_to_go_on(visit.house, visit.questions()) == 0);
  const std::size_t when = visit.find("What people see", "When");
  visit.give(when, "every evening");
  CHECK(visit.house.visit.at("when") == "every evening");
  CHECK(where_to_go_on(visit.house, visit.questions()) == when + 1);
  // Within a step it begins again at the step's question about the other leg.
  const std::string part = "At Main: known load on L1";
  const std::size_t safe = visit.find(part, "Are electronics on L2");
  visit.give(visit.find(part, "Which loads"), "heater");
  visit.give(visit.find(part, "L1 to neutral"), "117.2");
  CHECK(where_to_go_on(visit.house, visit.questions()) == safe);
}

TEST_CASE("a reading carries its step, its time and the instrument") {
  Visited visit;
  visit.give(visit.find("The instrument", "Which meter"), "a hand meter");
  visit.give(visit.find("The instrument", "Its input"), "low");
  visit.give(visit.find("The instrument", "Its accuracy"), "0,7 %");
  visit.give(visit.find("At Main: nothing on", "L1 to neutral"), "121,3 V");
  visit.give(visit.find("At Main: nothing on", "L2 to neutral"), "121.4");
  REQUIRE(visit.house.readings.size() == 1);
  const Reading& reading = visit.house.readings[0];
  CHECK(reading.at == "Main");
  CHECK(reading.label == "visit: nothing on");
  CHECK(reading.time == kNow);
  CHECK(reading.l1_n_volts == 121.3);
  CHECK(reading.l2_n_volts == 121.4);
  CHECK(reading.instrument == "a hand meter");
  CHECK(reading.meter_input == "low impedance");
  CHECK(reading.accuracy_percent == 0.7);
}

TEST_CASE("the main's step marks its reading as taken with the main off") {
  Visited visit;
  visit.give(visit.find("At Main: main off", "Water pipe"), "3.9 A");
  CHECK(visit.house.readings.at(0).main_off);
  CHECK(visit.house.readings.at(0).water_pipe_amps == 3.9);
}

TEST_CASE("loads by name, by the beginning of one, by number") {
  Visited visit;
  const std::size_t loads = visit.find("At Main: known load on L1", "Which loads");
  visit.give(loads, "heat, 2");
  CHECK(visit.house.readings.at(0).on == std::vector<std::string>{"Heater", "Lamp"});
  const Judged wrong = visit.judge(loads, "Heeter");
  REQUIRE(std::holds_alternative<Refused>(wrong));
  CHECK(std::get<Refused>(wrong).line == "no load is called \"Heeter\"; perhaps \"Heater\"");
}

TEST_CASE("volts under load are taken only beside a load or a leg's amperes") {
  for (const char* part : {"At Main: known load on L2", "At Main: known loads on all legs"}) {
    CAPTURE(part);
    Visited visit;
    const std::size_t volts = visit.find(part, "L2 to neutral");
    const Judged bare = visit.judge(volts, "118");
    REQUIRE(std::holds_alternative<Refused>(bare));
    CHECK(std::get<Refused>(bare).line ==
          "neither a load nor a leg's amperes were given, so these volts would count as read with "
          "nothing on; back leads to both");
    visit.give(visit.find(part, "Neutral, amperes"), "9");  // alone it is no leg's current
    CHECK(std::holds_alternative<Refused>(visit.judge(volts, "118")));
    Visited clamped = visit;
    clamped.give(clamped.find(part, "L2, amperes"), "9.3");
    clamped.give(volts, "118");
    visit.give(visit.find(part, "Which loads"), "heater");
    visit.give(volts, "118");
  }
  Visited visit;
  visit.give(visit.find("At Main: nothing on", "L2 to neutral"), "118");
}

TEST_CASE("amperes are asked for before the volts of a load, so that no kill parts them") {
  for (const char* system : {"120/240 split-phase", "120/208 wye"}) {
    CAPTURE(system);
    const Visited visit(system);
    const std::string part = "At Main: known load on L2";
    CHECK(visit.find(part, "Which loads") < visit.find(part, "L1, amperes"));
    CHECK(visit.find(part, "L2, amperes") < visit.find(part, "L1 to neutral"));
  }
}

// A maker's ±(0.7 % + 0.2 V) on 121.2, 121.3 and 242.5 V is 1.05, 1.05 and 1.90 V: 4.0 V at most.
// One of ±(0.1 % + 0.05 V) would be 0.6 V, so that 3 V off is none of it.
TEST_CASE(
    "legs that do not add up are asked back by the meter's accuracy, whichever is read last") {
  Visited visit;
  const std::string part = "At Main: nothing on";
  const std::size_t one = visit.find(part, "L1 to neutral");
  const std::size_t across = visit.find(part, "L1 to L2");
  visit.give(visit.find("The instrument", "Its accuracy"), "0.1");
  visit.give(visit.find("The instrument", "and the volts"), "50 mV");
  visit.give(visit.find(part, "L2 to neutral"), "121.3");
  visit.give(across, "242.5");
  CHECK(std::holds_alternative<Doubted>(visit.judge(one, "124.2")));
  visit.give(one, "121.2");
  CHECK(std::holds_alternative<Doubted>(visit.judge(across, "245.5")));
  Visited coarse;
  coarse.give(coarse.find("The instrument", "Its accuracy"), "0.7");
  coarse.give(coarse.find("The instrument", "and the volts"), "0.2");
  coarse.give(coarse.find(part, "L1 to neutral"), "121.2");
  coarse.give(coarse.find(part, "L2 to neutral"), "121.3");
  CHECK(std::holds_alternative<Accepted>(coarse.judge(across, "245.5")));
  CHECK(std::holds_alternative<Doubted>(coarse.judge(across, "247.5")));
}

TEST_CASE("unlikely values are asked back once") {
  Visited visit;
  const std::size_t volts = visit.find("At Main: nothing on", "L1 to neutral");
  CHECK(std::holds_alternative<Doubted>(visit.judge(volts, "12.1")));
  CHECK(std::holds_alternative<Accepted>(visit.judge(volts, "12.1", true)));
  CHECK(std::holds_alternative<Refused>(visit.judge(volts, "1e9")));
  CHECK(std::holds_alternative<Refused>(visit.judge(volts, "-3")));
  CHECK(std::holds_alternative<Refused>(visit.judge(volts, "high")));
  visit.give(volts, "118.9");
  visit.give(visit.find("At Main: nothing on", "L2 to neutral"), "122.0");
  const std::size_t across = visit.find("At Main: nothing on", "L1 to L2");
  CHECK(std::holds_alternative<Doubted>(visit.judge(across, "229")));
  CHECK(std::holds_alternative<Accepted>(visit.judge(across, "240.9")));
}

TEST_CASE("a confirmation is a yes in full") {
  Visited visit;
  const std::size_t safe = visit.find("At Main: known load on L1", "Are electronics");
  CHECK(std::holds_alternative<Accepted>(visit.judge(safe, "yes")));
  CHECK(std::holds_alternative<Refused>(visit.judge(safe, "y")));
}

TEST_CASE("further places have their own questions, an outlet's with volts to ground") {
  Visited visit;
  visit.give(visit.questions().size() - 1, "den w");
  CHECK(visit.house.visit.at("places_read") == "Den wall");
  visit.give(visit.find("At Den wall: known load on L1", "L1, amperes"), "12.5");
  visit.give(visit.find("At Den wall: known load on L1", "Neutral to ground"), "2.1");
  CHECK(visit.house.readings.at(0).at == "Den wall");
  CHECK(visit.house.readings.at(0).neutral_ground_volts == 2.1);
}

TEST_CASE("three legs of a wye are asked for, and one on another leg is safe before each") {
  const Visited visit("120/208 wye");
  (void)visit.find("At Main: nothing on", "L3 to L1");
  (void)visit.find("At Main: known load on L3", "Are electronics on L1 and L2");
}

}  // namespace
}  // namespace evenleg
