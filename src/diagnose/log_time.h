// The time stamps that recorders write.
//
// "2026-03-14T10:20:00.5", with a space for the T, with or without seconds, with Z or ±hh:mm;
// "14.03.2026 10:20:00" (day first); "03/14/2026 10:20 PM" (order by what is above 12, or as told);
// seconds or milliseconds since 1970; plain seconds from the start.
// Units: seconds since 1970 of the stamp's own clock; `offset`: seconds east of UTC where it has one.
#pragma once

#include <optional>
#include <string_view>

#include "evenleg/diagnose/log.h"

namespace evenleg {

struct Stamp {
  double seconds = 0;  // of its own clock
  std::optional<double> offset;
  bool has_clock = true;  // false: seconds from the start
};

enum class StampFault { None, NotATime, OrderUnknown };

struct StampResult {
  StampFault fault = StampFault::None;
  Stamp stamp;
};

// Learns the order of day and month from the first stamp that shows it.
[[nodiscard]] StampResult read_stamp(std::string_view text, DayOrder& order);

// "2026-03-14 10:20:00".
[[nodiscard]] std::string clock_text(double seconds);

}  // namespace evenleg
