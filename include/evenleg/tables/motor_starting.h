// What is known of starting motors and of the flicker that they make: data/motor-starting.toml and
// data/flicker.toml.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/citation.h"

namespace evenleg {

// A row of NEC table 430.7(B): kilovolt-amperes per horsepower with the rotor locked.
struct CodeLetter {
  std::string letter;
  double from = 0;
  std::optional<double> to;  // absent for the last letter, which is open upwards
};

struct MotorStarting {
  std::vector<CodeLetter> code_letters;
  Citation code_letter_source;
  double power_factor = 0;  // of a motor with its rotor locked, where its own is not stated
  Citation power_factor_source;
  double degraded_ohms = 0;  // added to the service neutral to stand for a bad one
  Citation degraded_source;
};

[[nodiscard]] const CodeLetter* find_code_letter(const MotorStarting& starting,
                                                 std::string_view letter);

// Rectangular changes of voltage, so many a minute at even spacing, that give Pst = 1: percent of
// the voltage, for a lamp of 230 V, 50 Hz and of 120 V, 60 Hz.
struct FlickerPoint {
  double changes_per_minute = 0;
  double percent_230 = 0;
  double percent_120 = 0;
};

// The largest single change that equipment may cause, d_max.
struct ChangeLimit {
  double percent = 0;
  std::string applies;  // "in general", "switched by hand, …"
};

struct FlickerTables {
  std::vector<FlickerPoint> points;  // ascending in changes per minute
  Citation points_source;
  std::vector<ChangeLimit> change_limits;  // ascending
  Citation change_limits_source;
  std::string change_limits_scope;  // where the limits do not apply, as a sentence
};

}  // namespace evenleg
