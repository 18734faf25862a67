// A visit without a terminal: what typed lines do, and that what others change meanwhile stays.
#include "src/cli/visit_form.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "evenleg/describe/describe.h"
#include "evenleg/house/validate.h"
#include "evenleg/tables/tables.h"
#include "tests/network/dice.h"

namespace evenleg {
namespace {

constexpr const char* kNow = "2026-03-14T10:20:00";
constexpr const char* kHouse = R"(
format = 1
house = {name = "Larkrise"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 12}]
circuit = [{name = "Den circuit", space = 1}, {name = "Galley", space = 3}]
outlet = [{name = "Den; wall", on = "Den circuit"}, {name = "Den", on = "Den circuit"}, {name = "Worktop", on = "Galley"}]
load = [{name = "Heater", at = "Den", watts = 1500}, {name = "Lamp, tall", at = "Den", watts = 60}]
)";

// A house file of one: `stored`.
struct Visiting {
  Visiting()
      : words(vocabulary(tables)),
        stored(read_description(kHouse, "house", words)),
        form(begun()) {}

  [[nodiscard]] VisitForm begun() {
    return {stored, words, "visit", [this](const auto& edit) {
              edit(stored);
              ++changes;
            }};
  }
  VisitForm::Reply type(const std::string& line) { return form.take(line, kNow); }
  void type_all(const std::vector<std::string>& lines) {
    for (const std::string& line : lines) {
      CAPTURE(line);
      CHECK(type(line).lines.empty());
    }
  }
  void go_to(const std::string& part) {
    while (form.question() != nullptr && form.question()->part != part) type("");
    REQUIRE(form.question() != nullptr);
  }
  [[nodiscard]] std::string asked() const { return form.question()->prompt; }

  Tables tables = load_tables();
  Vocabulary words;
  House stored;
  int changes = 0;
  VisitForm form;
};

TEST_CASE("an answer is one change, kept before the next question; help, back and Enter are none") {
  Visiting visit;
  visit.type_all({"lamps flicker", "whole house"});
  CHECK(visit.changes == 2);
  CHECK(visit.stored.visit.at("extent") == "whole house");
  CHECK(visit.type("?").lines.size() == 1);
  visit.type_all({"back"});
  CHECK(visit.type("?").lines.size() == 2);  // that it is answered
  visit.type_all({"one lamp", ""});
  CHECK(visit.changes == 3);
  CHECK(visit.stored.visit.at("extent") == "one lamp");
  CHECK(visit.type("quit").stops);
}

TEST_CASE("another program's readings and answers stay") {
  Visiting visit;
  visit.go_to("At Main: nothing on");
  visit.type_all({"121.2"});
  Reading other;
  other.at = "Worktop";
  other.l2_n_volts = 119.0;
  visit.stored.readings.insert(visit.stored.readings.begin(), other);
  visit.stored.visit["weather"] = "wind";
  visit.stored.loads.push_back(visit.stored.loads.front());
  visit.stored.loads.back().name = "Iron";
  visit.type_all({"121.3"});
  REQUIRE(visit.stored.readings.size() == 2);
  CHECK(visit.stored.readings[0] == other);
  CHECK(visit.stored.readings[1].l1_n_volts == 121.2);
  CHECK(visit.stored.readings[1].l2_n_volts == 121.3);
  CHECK(visit.stored.visit.at("weather") == "wind");
  CHECK(visit.asked() == "L1 to L2, volts");
  visit.go_to("At Main: known load on L1");
  visit.type_all({"yes", "iron"});  // known from then on
  CHECK(visit.stored.readings[2].on == std::vector<std::string>{"Iron"});
}

TEST_CASE("an answer about what another program took away is refused and changes nothing") {
  Visiting visit;
  visit.go_to("At Main: known load on L1");
  visit.type_all({"yes"});
  visit.stored.loads.erase(visit.stored.loads.begin());
  const House before = visit.stored;
  CHECK(visit.type("Heater").lines ==
        std::vector<std::string>{"no load is called \"Heater\"; ? lists them."});
  CHECK(visit.stored == before);
}

TEST_CASE("no way leads into a loaded step past its yes") {
  Visiting visit;
  visit.go_to("At Main: known load on L2");
  visit.type_all({"back"});
  CHECK(visit.form.question()->part == "At Main: known load on L1");
  CHECK(visit.form.question()->kind == QuestionKind::Confirm);
  // Confirmed, it can be corrected from the next step.
  visit.type_all({"yes", "heater", "", "", "", "117", "", "", "back"});
  CHECK(visit.asked() == "L1 to L2, volts");
  // Left out after all, no longer.
  visit.type_all({"back", "back", "back", "back", "back", "back", "back"});
  CHECK(visit.form.question()->kind == QuestionKind::Confirm);
  visit.type_all({"", "back"});
  CHECK(visit.form.question()->kind == QuestionKind::Confirm);
  CHECK(visit.form.question()->step == "visit: known load on L1");
}

// Typed lines at random; whatever they are, a loaded step is asked about only after its yes, its
// volts have a current, and the house stays one that may be saved.
TEST_CASE("any lines in any order leave a sound house") {
  const std::vector<std::string> kLines{
      "",           "",     "",        "",          "back", "back",     "?",      "yes",
      "118.9",      "12 A", "350 mV",  "1200 V",    "high", "0",        "Heater", "1,2",
      "Lamp, tall", "Main", "Den",     "Den; wall", "low",  "\x01\xff", "quit",   "12.1",
      "x, y",       "%",    "Worktop", "2",         "yes",  "240"};
  Dice dice(5);
  for (int round = 0; round < 40; ++round) {
    CAPTURE(round);
    Visiting visit;
    std::string confirmed;
    for (int typed = 0; typed < 150 && visit.form.question() != nullptr; ++typed) {
      const Question question = *visit.form.question();
      if (question.loaded && question.kind != QuestionKind::Confirm) {
        CHECK(confirmed.find("<" + question.place + "|" + question.step + ">") !=
              std::string::npos);
      }
      const std::string line = dice.pick(kLines);
      visit.type(line);
      if (question.kind == QuestionKind::Confirm && line == "yes") {
        confirmed += "<" + question.place + "|" + question.step + ">";
      }
      CHECK(validate(visit.stored, visit.words).empty());
      CHECK(visit.form.house() == visit.stored);
    }
    for (const Reading& reading : visit.stored.readings) {
      if (reading.label->find("known load") == std::string::npos) continue;
      const bool volts = reading.l1_n_volts || reading.l2_n_volts || reading.l1_l2_volts ||
                         reading.neutral_ground_volts || reading.l1_ground_volts;
      CHECK((!volts || !reading.on.empty() || reading.l1_amps || reading.l2_amps));
    }
  }
}

TEST_CASE(
    "a doubt is settled by yes or by the value again, and does not follow to other questions") {
  Visiting visit;
  visit.go_to("At Main: nothing on");
  CHECK(visit.type("12").lines.size() == 1);
  visit.type_all({""});
  CHECK(visit.type("12").lines.size() == 1);
  visit.type_all({"yes"});
  CHECK(visit.stored.readings.at(0).l2_n_volts == 12);
  CHECK(visit.type("yes").lines.size() == 1);  // nothing was doubted: no number
  CHECK(visit.type("100").lines.size() == 1);
  visit.type_all({"100"});
  CHECK(visit.stored.readings.at(0).l1_l2_volts == 100);
}

TEST_CASE("further places come next, once each, whatever is in their names") {
  Visiting visit;
  visit.go_to("Further places");
  CHECK(visit.type("main").lines.size() == 1);
  CHECK(visit.type("?").lines.back() == "Den; wall, Den, Worktop");
  visit.type_all({"Den; wall"});
  CHECK(visit.form.question()->part == "At Den; wall: nothing on");
  visit.go_to("Further places");
  CHECK(visit.type("den; wall").lines.size() == 1);
  visit.type_all({"Den"});
  CHECK(visit.form.question()->part == "At Den: nothing on");
  CHECK(visit.stored.visit.at("places_read") == "Den; wall; Den");
  visit.type_all({"119.9"});
  // The next visit goes on there.
  CHECK(visit.begun().question()->part == "At Den: nothing on");
}

}  // namespace
}  // namespace evenleg
