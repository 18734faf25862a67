// The time stamps that recorders write.
//
// "2026-03-14T10:20:00.5", with a space for the T, with or without seconds, with Z or ±hh:mm;
// "14.03.2026 10:20:00" (day first); "03/14/2026 10:20 PM" (order by what is above 12, or as told);
// seconds or milliseconds since 1970; plain seconds from the start.
// Units: seconds since 1970 of the stamp's own clock; `offset`: seconds east of UTC where it has
// one.
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

// What a reader of stamps remembers between them.
struct StampMemory {
  DayOrder order = DayOrder::Unknown;  // learnt from the first stamp that shows it
  int day = -1;  // the last date, packed, and its seconds: most stamps repeat it
  double day_seconds = 0;
};

enum class StampFault { None, NotATime, OrderUnknown };

struct StampResult {
  StampFault fault = StampFault::None;
  Stamp stamp;
};

[[nodiscard]] StampResult read_stamp(std::string_view text, StampMemory& memory);

}  // namespace evenleg
