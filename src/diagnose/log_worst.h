// The hour of a log in which the volts went furthest, in columns for a chart.
#pragma once

#include <optional>

#include "evenleg/diagnose/log.h"
#include "src/diagnose/log_rows.h"

namespace evenleg {

class WorstHourFinder {
 public:
  WorstHourFinder();
  // `away`: of each leg from its mean of the last minutes.
  void add(const Sample& sample, const std::array<double, 2>& away);
  [[nodiscard]] std::optional<WorstHour> finish();

 private:
  void close_hour();

  std::optional<double> hour_;
  WorstHour now_;
  std::optional<WorstHour> worst_;
};

}  // namespace evenleg
