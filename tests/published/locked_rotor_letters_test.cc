// Source: NFPA 70, National Electrical Code, table 430.7(B), read second hand on several pages (two
// of which misprint the ends of B and H). The amperes are computed from its ranges by hand:
//   single phase, I = 1000 (kVA per hp) hp / V, with the upper end of the letter's range.
#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "evenleg/audit/motor_starts.h"
#include "evenleg/tables/tables.h"
#include "tests/check.h"

namespace evenleg {
namespace {

TEST_CASE("NEC table 430.7(B): the upper ends of the ranges") {
  struct Row {
    const char* letter;
    double upper;
  };
  const Row kRows[] = {{"A", 3.14},  {"B", 3.54},  {"C", 3.99},  {"D", 4.49},  {"E", 4.99},
                       {"F", 5.59},  {"G", 6.29},  {"H", 7.09},  {"J", 7.99},  {"K", 8.99},
                       {"L", 9.99},  {"M", 11.19}, {"N", 12.49}, {"P", 13.99}, {"R", 15.99},
                       {"S", 17.99}, {"T", 19.99}, {"U", 22.39}};
  const MotorStarting starting = load_tables().motor_starting;
  for (const Row& row : kRows) {
    CAPTURE(std::string(row.letter));
    const CodeLetter* letter = find_code_letter(starting, row.letter);
    REQUIRE(letter != nullptr);
    CHECK(letter->to == row.upper);
  }
}

TEST_CASE("NEC table 430.7(B): locked-rotor amperes of single-phase motors") {
  struct Row {
    double horsepower;
    double volts;
    const char* letter;
    std::string_view amps;
  };
  const Row kRows[] = {{1, 120, "G", "52.4"}, {1.5, 240, "J", "49.9"}, {3, 240, "H", "88.6"}};
  const MotorStarting starting = load_tables().motor_starting;
  for (const Row& row : kRows) {
    CAPTURE(row.amps);
    Load load;
    load.code_letter = row.letter;
    load.horsepower = row.horsepower;
    const auto amps = locked_rotor_amps(load, volts(row.volts), starting);
    REQUIRE(amps.has_value());
    CHECK(matches_printed(*amps, row.amps));
  }
}

}  // namespace
}  // namespace evenleg
