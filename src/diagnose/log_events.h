// Events of a log: when a leg left its mean of the last minutes, how far, how long, and how the
// other leg went along.
#pragma once

#include <array>
#include <vector>

#include "evenleg/diagnose/log.h"
#include "src/diagnose/log_rows.h"

namespace evenleg {

// How two moves go together: their ratio, smaller to larger, by sign.
[[nodiscard]] double swing_ratio(double one, double other);
// `cosine`: of the angle between the legs, which a displaced neutral's ratio comes to at most.
[[nodiscard]] SwingKind kind_of_swing(double ratio, double cosine);
void count(SwingCounts& counts, SwingKind kind);

class LogEvents {
 public:
  LogEvents(double nominal_volts, double cosine) : nominal_(nominal_volts), cosine_(cosine) {}

  void add(const Sample& sample, double seconds_since_last);
  // Ends what is open: at a gap, at the end, or before the mean starts anew.
  void end();
  // The legs' distance from their means.
  [[nodiscard]] const std::array<double, 2>& away() const { return away_; }

  [[nodiscard]] const SwingCounts& counts() const { return counts_; }
  [[nodiscard]] std::int64_t dips() const { return dips_; }
  [[nodiscard]] std::int64_t swells() const { return swells_; }
  [[nodiscard]] std::vector<LogEvent> deepest() const;  // in time order

 private:
  void close();
  void keep(const LogEvent& event);

  double nominal_;
  double cosine_;
  bool started_ = false;
  std::array<double, 2> mean_{};
  std::array<double, 2> away_{};
  bool open_ = false;
  LogEvent event_;
  double begin_order_ = 0;
  bool dip_ = false, swell_ = false;
  SwingCounts counts_;
  std::int64_t dips_ = 0, swells_ = 0;
  std::vector<LogEvent> kept_;  // a heap, the shallowest on top
};

}  // namespace evenleg
