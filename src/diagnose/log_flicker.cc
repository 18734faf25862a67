#include "src/diagnose/log_flicker.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/percent.h"
#include "evenleg/tables/flicker.h"

namespace evenleg {
namespace {

constexpr double kWindowSeconds = 600;  // of Pst
constexpr double kHalfFilled = 0.5;
constexpr double kApartSeconds = 1;    // what the formula asks between changes
constexpr double kLeastPercent = 0.1;  // 0.12 V of 120 V: a recorder's last digits; judgement
constexpr double kMinutes = 10;

}  // namespace

LogFlicker::LogFlicker(const FlickerTables& tables, double nominal_volts)
    : tables_(tables), nominal_(nominal_volts) {}

void LogFlicker::add(const Sample& sample, const std::optional<std::array<double, 2>>& change,
                     double seconds_since_last) {
  const double window = std::floor(sample.order / kWindowSeconds);
  if (window != window_) {
    close_window();
    window_ = window;
    window_clock_ = sample.clock;
    last_change_.fill(-std::numeric_limits<double>::infinity());
  }
  if (!change) return;
  filled_ += seconds_since_last;
  for (std::size_t leg = 0; leg < 2; ++leg) {
    const double percent = kPercent * std::abs((*change)[leg]) / nominal_;
    if (percent < kLeastPercent) continue;
    std::vector<double>& changes = changes_[leg];
    if (!changes.empty() && sample.order - last_change_[leg] <= kApartSeconds) {
      changes.back() = std::max(changes.back(), percent);
      continue;
    }
    changes.push_back(percent);
    last_change_[leg] = sample.order;
  }
}

void LogFlicker::close_window() {
  if (filled_ >= kHalfFilled * kWindowSeconds) {
    for (std::size_t leg = 0; leg < 2; ++leg) {
      const double rate = static_cast<double>(changes_[leg].size()) / kMinutes;
      const double factor =
          rate > 0 ? change_on_230_volt_lamp(tables_, lamp_for(nominal_), 1, rate) : 1;
      std::vector<VoltageChange> changes;
      for (const double percent : changes_[leg]) changes.push_back({factor * percent, 1});
      const double pst = changes.empty() ? 0 : analytical_pst(changes, kWindowSeconds);
      LegFlicker& result = legs_[leg];
      ++result.windows;
      if (pst > 1) ++result.over_one;
      if (pst > result.highest) {
        result.highest = pst;
        result.highest_at = window_clock_;
      }
    }
  }
  filled_ = 0;
  for (auto& changes : changes_) changes.clear();
}

std::array<LegFlicker, 2> LogFlicker::finish() {
  close_window();
  return legs_;
}

}  // namespace evenleg
