// Flicker of a log's steps, window by window of ten minutes.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "evenleg/diagnose/log.h"
#include "src/diagnose/log_rows.h"

namespace evenleg {

class LogFlicker {
 public:
  LogFlicker(const FlickerTables& tables, double nominal_volts);

  // `change`: volts since the sample before; nothing after a gap.
  void add(const Sample& sample, const std::optional<std::array<double, 2>>& change,
           double seconds_since_last);
  [[nodiscard]] std::array<LegFlicker, 2> finish();

 private:
  void close_window();

  const FlickerTables& tables_;
  double nominal_;
  std::optional<double> window_;                // its number
  double window_clock_ = 0;                     // clock at its first sample
  double filled_ = 0;                           // seconds
  std::array<std::vector<double>, 2> changes_;  // percent, no two within a second
  std::array<double, 2> last_change_{};         // order seconds
  std::array<LegFlicker, 2> legs_;
};

}  // namespace evenleg
