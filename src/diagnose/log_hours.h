// A log hour by hour, and by hour of the day.
#pragma once

#include <array>
#include <vector>

#include "evenleg/diagnose/log.h"
#include "src/diagnose/log_ohms.h"
#include "src/diagnose/log_reservoir.h"
#include "src/diagnose/log_rows.h"

namespace evenleg {

// The median and the quartiles of what is kept; nothing with fewer than `fewest`.
struct Quartiles {
  double low = 0, median = 0, high = 0;
};
[[nodiscard]] std::optional<Quartiles> quartiles(std::vector<float> values, std::size_t fewest);

class LogHours {
 public:
  explicit LogHours(double cosine);

  void add(const Sample& sample);
  void add_ratio(double ratio) { ratios_.add(static_cast<float>(ratio)); }
  void add_change(const LogChange& change) { changes_.add(change); }
  // Closes the last hour and hands over.
  void finish(LogResult& result);

 private:
  void close_hour();

  double cosine_;
  std::optional<double> hour_;
  LogHour now_;
  std::array<double, 2> sums_{};
  Reservoir<float> ratios_;
  Reservoir<LogChange> changes_;
  std::vector<LogHour> hours_;
  std::int64_t not_listed_ = 0;
  std::array<HourOfDay, 24> by_hour_{};  // sums until finish()
};

}  // namespace evenleg
