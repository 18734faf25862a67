// Schedules as people have them in spreadsheets. The texts are ours.
#include "evenleg/edit/pasted_schedule.h"

#include <doctest/doctest.h>

#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

const Vocabulary& words() {
  static const Tables kTables = load_tables();
  static const Vocabulary kWords = vocabulary(kTables);
  return kWords;
}

TEST_CASE("columns by their headings, in any order") {
  const auto rows = pasted_schedule(
      "Description\tCkt\tBreaker\tPoles\tWire\tLength\n"
      "Range\t1\t40 A\t2\t8 Cu\t38\n"
      "Spare\t2\t\t\t\t\n"
      "Den, north\t5\t15\t1\t14\t\n",
      words());
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].name == "Range");
  CHECK(rows[0].space == 1);
  CHECK(rows[0].breaker_a == 40);
  CHECK(rows[0].poles == 2);
  CHECK(rows[0].conductor == "8 Cu");
  CHECK(rows[0].length_ft == 38);
  CHECK(rows[0].line == 2);
  CHECK(rows[1].name == "Den, north");
  CHECK(rows[1].conductor == "14 Cu");
  CHECK(rows[1].fault.empty());
}

TEST_CASE("two halves side by side, the right one written outwards or inwards") {
  const char* kOutwards = "Ckt\tLoad\tAmps\tCkt\tLoad\tAmps\n1\tDen\t15\t2\tAttic\t20\n";
  const char* kInwards = "Ckt\tLoad\tAmps\tAmps\tLoad\tCkt\n1\tDen\t15\t20\tAttic\t2\n";
  for (const char* text : {kOutwards, kInwards}) {
    CAPTURE(text);
    const auto rows = pasted_schedule(text, words());
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].name == "Den");
    CHECK(rows[0].breaker_a == 15);
    CHECK(rows[1].name == "Attic");
    CHECK(rows[1].space == 2);
    CHECK(rows[1].breaker_a == 20);
  }
}

TEST_CASE("without headings a cell says by its look what it is") {
  const auto rows = pasted_schedule("7,Hall lights,15A,14/2\r\n\r\n10,Hot tub,50/2,6/3\n", words());
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].space == 7);
  CHECK(rows[0].name == "Hall lights");
  CHECK(rows[0].breaker_a == 15);
  CHECK(rows[0].conductor == "14 Cu");
  CHECK(rows[1].breaker_a == 50);
  CHECK(rows[1].poles == 2);
  CHECK(rows[1].conductor == "6 Cu");
  CHECK(rows[1].line == 3);
}

TEST_CASE("without headings poles, breaker and length are not taken for each other") {
  const auto rows = pasted_schedule("32\tDen\t20\t1\t12 Cu\t40\n33\tTub\t40A\t2\n", words());
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].breaker_a == 20);
  CHECK(rows[0].poles == 1);
  CHECK(rows[0].conductor == "12 Cu");
  CHECK(rows[0].length_ft == 40);
  CHECK(rows[1].breaker_a == 40);
  CHECK(rows[1].poles == 2);
}

TEST_CASE("without headings a bare 12 after the breaker is neither wire nor length") {
  const auto rows = pasted_schedule("2\tFridge\t20\t12\n4\tDen\t15\t45\n", words());
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].fault.find("wire size or a length") != std::string::npos);
  CHECK_FALSE(rows[0].length_ft.has_value());
  CHECK(rows[1].length_ft == 45);
  CHECK(rows[1].fault.empty());
}

TEST_CASE("a circuit of several spaces") {
  for (const char* space : {"2,4", "2-4", "2/4", "2 & 4"}) {
    CAPTURE(space);
    const auto rows =
        pasted_schedule(std::string("Space\tName\tBreaker\n") + space + "\tDryer\t30\n", words());
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].space == 2);
    CHECK(rows[0].poles == 2);
  }
}

TEST_CASE("what cannot be entered says why, and is not among the edits") {
  House house;
  house.panels.resize(1);
  house.panels[0].name = "Main";
  house.panels[0].spaces = 6;
  house.circuits.resize(1);
  house.circuits[0].name = "Den";
  house.circuits[0].space = 1;
  auto rows = pasted_schedule(
      "Space\tName\tBreaker\tWire\n"
      "1\tTaken\t15\t14\n"
      "9\tBeyond\t15\t14\n"
      "\tNowhere\t15\t14\n"
      "2\tOdd wire\t15\t13\n"
      "3\tDen\t20\t12\n",
      words());
  fit_into(house, "Main", rows);
  REQUIRE(rows.size() == 5);
  CHECK(rows[0].fault == "space 1 is taken by Den");
  CHECK(rows[1].fault == "space 9 is beyond the 6 spaces of Main");
  CHECK(rows[2].fault == "no space is given");
  CHECK(rows[3].fault == "\"13\" is not a known conductor");
  CHECK(rows[4].fault.empty());
  CHECK(rows[4].name == "Den 2");
  const auto edits = edits_of(rows, "Main");
  REQUIRE(edits.size() == 1);
  CHECK(edits[0].name == "Den 2");
  CHECK(edits[0].given.at("breaker_a") == std::vector<std::string>{"20"});
}

TEST_CASE("nothing that is pasted does harm") {
  for (const char* text :
       {"", "\n\n\n", "\t\t\t", "Ckt\n", "\"", "999999999999999\tx\t15", ";;;"}) {
    CAPTURE(text);
    for (const ScheduleRow& row : pasted_schedule(text, words())) CHECK_FALSE(row.name.empty());
  }
  CHECK(pasted_schedule(std::string(2'000'000, '\t'), words()).empty());
}

}  // namespace
}  // namespace evenleg
