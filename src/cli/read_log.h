// A recorder's log from a file or standard input, in pieces, with progress.
#pragma once

#include <string>
#include <vector>

#include "evenleg/diagnose/log.h"
#include "evenleg/house/house.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

// "day-first" and "month-first": what --log-dates takes.
[[nodiscard]] const std::vector<std::string>& day_order_names();
// One of them, as typed; "" where it was not said.
[[nodiscard]] DayOrder day_order(const std::string& dates);

// "-": standard input. Throws: Error(File) when it cannot be read; Error(Request) as LogAnalyzer.
[[nodiscard]] LogResult read_log(const std::string& path, const House& house, const Tables& tables,
                                 DayOrder dates);

}  // namespace evenleg
