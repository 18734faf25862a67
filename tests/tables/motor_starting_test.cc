// data/motor-starting.toml and data/flicker.toml: complete, in order, and what a wrong file is
// told.
#include "evenleg/tables/motor_starting.h"

#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/house/fields.h"
#include "evenleg/tables/tables.h"
#include "src/tables/readers.h"
#include "tests/check.h"

namespace evenleg {
namespace {

// NEC table 430.7(B): each range starts a hundredth above the end of the one before.
TEST_CASE("motor starting: the code letters join without gaps, and the last is open upwards") {
  const MotorStarting starting = load_tables().motor_starting;
  REQUIRE(starting.code_letters.size() == 19);
  double end = -0.01;
  for (const CodeLetter& row : starting.code_letters) {
    CAPTURE(row.letter);
    CHECK(close(row.from, end + 0.01, 1e-9));
    if (row.letter == "V") {
      CHECK_FALSE(row.to.has_value());
      continue;
    }
    REQUIRE(row.to.has_value());
    end = *row.to;
  }
  for (const char* letter : {"I", "O", "Q"}) {
    CHECK(find_code_letter(starting, letter) == nullptr);
  }
}

TEST_CASE("motor starting: the letters of the table are those of the key code_letter") {
  const MotorStarting starting = load_tables().motor_starting;
  std::vector<std::string> letters;
  for (const CodeLetter& row : starting.code_letters) letters.push_back(row.letter);
  for (const Field<Load>& field : fields_of<Load>()) {
    if (field.key == "code_letter") CHECK(field.choices == letters);
  }
}

TEST_CASE("motor starting: R and X of 0.1 per unit are a power factor of 1 / sqrt 2") {
  const MotorStarting starting = load_tables().motor_starting;
  CHECK(close(starting.power_factor, std::sqrt(0.5), 1e-12));
  CHECK(starting.degraded_ohms == 0.5);
  CHECK_FALSE(starting.degraded_source.read.empty());
}

TEST_CASE("flicker: points rise, and the limits of a change are 4, 6 and 7 %") {
  const FlickerTables flicker = load_tables().flicker;
  CHECK(flicker.points.size() == 29);
  double last = 0;
  for (const FlickerPoint& point : flicker.points) {
    CHECK(point.changes_per_minute > last);
    last = point.changes_per_minute;
    CHECK(point.percent_120 > point.percent_230);
  }
  REQUIRE(flicker.change_limits.size() == 3);
  CHECK(flicker.change_limits[0].percent == 4);
  CHECK(flicker.change_limits[1].percent == 6);
  CHECK(flicker.change_limits[2].percent == 7);
  CHECK(flicker.change_limits_source.read.find("from memory") == 0);
}

TEST_CASE("spectra file: an angle alone, no order, a kind twice are told") {
  DataFile file("s.toml", R"(
source = {title = "t", edition = "e", section = "s", precision = "p", read = "r"}
[references.a]
title = "t"
edition = "e"
section = "s"
precision = "p"
read = "r"
[[spectrum]]
kind = "plain"
reference = "a"
h3_degrees = 4
[[spectrum]]
kind = "plain"
reference = "a"
h51_percent = 1
)");
  Tables tables;
  std::optional<Row> root = file.root();
  REQUIRE(root.has_value());
  read_spectra(*root, tables);
  std::string told;
  for (const Fault& fault : file.faults()) told += line(fault) + "\n";
  CHECK(told.find("s.toml:12:14: an angle without a percentage; add h3_percent") !=
        std::string::npos);
  CHECK(told.find("the spectrum of \"plain\" has no order; add one") != std::string::npos);
  CHECK(told.find("two spectra are for \"plain\"; remove one") != std::string::npos);
  CHECK(told.find("unknown key \"h51_percent\"") != std::string::npos);
}

}  // namespace
}  // namespace evenleg
