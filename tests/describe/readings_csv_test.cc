#include "evenleg/describe/readings_csv.h"

#include <doctest/doctest.h>

#include "evenleg/base/error.h"
#include "evenleg/house/fields.h"
#include "tests/network/dice.h"

namespace evenleg {
namespace {

std::vector<std::string> refusals(std::string_view text) {
  std::vector<std::string> lines;
  try {
    (void)read_readings_csv(text, "r.csv");
  } catch (const Error& error) {
    for (const Fault& fault : error.faults()) lines.push_back(line(fault));
  }
  return lines;
}

// A reading with random keys, names that hold every separator, and any doubles.
Reading random_reading(Dice& dice) {
  static const std::vector<std::string> kNames{"Main",        "Left, of sink", "\"Den\"", "A;B",
                                               "back\\slash", "Ünder sink",    "=1+1"};
  Reading reading;
  reading.at = dice.pick(kNames);
  for (const Field<Reading>& field : fields_of<Reading>()) {
    if (field.key == "at" || dice.chance(0.5)) continue;
    if (field.key == "time") {
      field.set(reading, std::string("2026-03-14T10:20:00"));
    } else if (!field.choices.empty()) {
      field.set(reading, dice.pick(field.choices));
    } else if (field.type == FieldType::Text) {
      field.set(reading, dice.pick(kNames));
    } else if (field.type == FieldType::Number) {
      field.set(reading, dice.between(0, 1) * (dice.chance(0.2) ? 1e-3 : 20) + 1e-6);
    } else if (field.type == FieldType::Flag) {
      field.set(reading, true);
    } else if (field.type == FieldType::TextList) {
      field.set(reading, std::vector<std::string>{dice.pick(kNames), "Kettle; large", "Lamp"});
    }
  }
  return reading;
}

TEST_CASE("what is written reads back the same") {
  Dice dice(1);
  for (int round = 0; round < 300; ++round) {
    CAPTURE(round);
    std::vector<Reading> readings;
    for (int r = dice.whole(0, 4); r > 0; --r) readings.push_back(random_reading(dice));
    const std::string text = write_readings_csv(readings);
    CAPTURE(text);
    CHECK(read_readings_csv(text, "r.csv") == readings);
  }
}

TEST_CASE("columns in any order, other separators, decimal commas, line ends, a mark in front") {
  Reading reading;
  reading.at = "Main";
  reading.on = {"Kettle", "Iron"};
  reading.l1_n_volts = 118.9;
  reading.main_off = true;
  const std::vector<Reading> wanted{reading};
  CHECK(read_readings_csv("l1_n_volts,at,on,main_off\n118.9,Main,Kettle;Iron,yes\n", "r") ==
        wanted);
  CHECK(read_readings_csv(
            "\xEF\xBB\xBFl1_n_volts;at;on;main_off\r\n118,9;Main;\"Kettle;Iron\";true\r\n", "r") ==
        wanted);
  CHECK(read_readings_csv("at\tl1_n_volts\ton\tmain_off\nMain\t118.9\tKettle ; Iron\t1", "r") ==
        wanted);
  CHECK(read_readings_csv("at\n", "r").empty());
}

// RFC 4180, section 2: line ends are CRLF (rule 1), a quote inside quotes is doubled (rule 7).
TEST_CASE("quotes at the end of a line, around line ends, doubled, with blanks beside them") {
  Reading reading;
  reading.at = "Main";
  reading.label = "say \"on\", then; off";
  reading.on = {"Kettle"};
  const std::vector<Reading> wanted{reading};
  CHECK(read_readings_csv("at,label,on\r\nMain,\"say \"\"on\"\", then; off\",\"Kettle\"\r\n",
                          "r") == wanted);
  CHECK(read_readings_csv("at,on,label\r\nMain,Kettle,\"say \"\"on\"\", then; off\"\r\n", "r") ==
        wanted);
  CHECK(read_readings_csv("at, on, label\nMain, \"Kettle\" , \"say \"\"on\"\", then; off\"", "r") ==
        wanted);
  CHECK(read_readings_csv(
            "\"at\",\"on\",\"label\"\r\n\r\n\"Main\",Kettle,\"say \"\"on\"\", then; off\"\r",
            "r") == wanted);
}

// Else "118"9 would be 1189 V.
TEST_CASE("text after a closing quote is no value") {
  CHECK(refusals("at,l1_n_volts\nMain,\"11\"9\n\"Main\"x,118\n") ==
        std::vector<std::string>{
            "r.csv:2:6: l1_n_volts: text after the closing quotation mark; double a quotation mark "
            "inside quotes, or put the separator after the last",
            "r.csv:3:1: at: text after the closing quotation mark; double a quotation mark inside "
            "quotes, or put the separator after the last"});
}

TEST_CASE("any text is read, and then as what it says, or refused at a place within it") {
  Dice dice(11);
  const std::string valid = "at,on,label,l1_n_volts,main_off\nMain,\"A;B\",\"x, y\",118.9,true\n";
  const std::string put = ",;\t\"\r\n\\ .1ae\xC3\xA9";
  for (int round = 0; round < 2000; ++round) {
    std::string text = valid;
    for (int change = dice.whole(1, 4); change > 0; --change) {
      const auto at = static_cast<std::size_t>(dice.whole(0, static_cast<int>(text.size()) - 1));
      const auto one = static_cast<std::size_t>(dice.whole(0, static_cast<int>(put.size()) - 1));
      if (dice.chance(0.3)) {
        text.erase(at, 1);
      } else {
        text.insert(at, 1, put[one]);
      }
    }
    CAPTURE(text);
    try {
      const std::vector<Reading> readings = read_readings_csv(text, "r");
      CHECK(read_readings_csv(write_readings_csv(readings), "again") == readings);
    } catch (const Error& error) {
      for (const Fault& fault : error.faults()) {
        CHECK(fault.where.starts_with("r:"));
        CHECK_FALSE(fault.what.empty());
        CHECK_FALSE(fault.remedy.empty());
      }
    }
  }
}

TEST_CASE("every fault is told at its place") {
  CHECK(refusals("") == std::vector<std::string>{
                            "r.csv:1:1: there is nothing in it; head its columns with keys of a "
                            "reading, \"at\" first"});
  CHECK(refusals("at,l1_n_vlots\nMain,118.9\n") ==
        std::vector<std::string>{
            "r.csv:1:4: a reading has no key \"l1_n_vlots\"; did you mean \"l1_n_volts\"?"});
  CHECK(
      refusals("label\nx\n") ==
      std::vector<std::string>{"r.csv:1:1: no column is headed \"at\"; add the panel or outlet of "
                               "each reading"});
  CHECK(refusals("at,l1_n_volts\nMain,high\n,120\nMain,-5\nMain,1,2\n").size() == 4);
  CHECK(refusals("at,l1_n_volts\nMain,high\n")[0].starts_with(
      "r.csv:2:6: l1_n_volts = \"high\"; it must be a number"));
  CHECK(refusals("at,label\nMain,\"open\n")[0] ==
        "r.csv:2:6: a quotation mark that is never closed; close it");
  CHECK(refusals("at,at\nMain,Main\n")[0] ==
        "r.csv:1:4: two columns are headed \"at\"; remove one of them");
  CHECK(refusals("at,l1_n_volts\nMain,nan\n").size() == 1);
}

}  // namespace
}  // namespace evenleg
