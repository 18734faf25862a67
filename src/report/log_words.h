// How a log's times and kinds are written.
#pragma once

#include <string>
#include <string_view>

#include "evenleg/diagnose/log.h"

namespace evenleg {

// "2026-03-14 10:20:00"; without a clock "0:20:00 from the start".
[[nodiscard]] std::string when(const LogResult& log, double seconds);
// "3 h 20 min", "12 min", "4.0 s".
[[nodiscard]] std::string long_text(double seconds);
[[nodiscard]] std::string_view name_of(SwingKind kind);

}  // namespace evenleg
