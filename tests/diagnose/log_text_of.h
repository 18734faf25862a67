// Logs written for tests by the formula of the three-wire circuit, and analysed.
#pragma once

#include <string>
#include <string_view>

#include "evenleg/diagnose/log.h"

namespace evenleg {

struct LogRecipe {
  int samples = 7200;
  double step = 1;
  double rn = 0.3, r1 = 0.03, r2 = 0.03;
  double noise_volts = 0.03;
  double noise_amps = 0.02;
  std::uint64_t seed = 1;
};

// "time,L1 V,L2 V,L1 A,L2 A", one sample each step from 2026-03-14 06:00:00, kettles that come and
// go on both legs, a source that wanders.
[[nodiscard]] std::string written_log(const LogRecipe& recipe);

// The piece size does not matter for the result; 0: all at once.
[[nodiscard]] LogResult analysed(std::string_view text, std::size_t piece = 0,
                                 const std::string& system = "120/240 split-phase",
                                 DayOrder dates = DayOrder::Unknown);

}  // namespace evenleg
