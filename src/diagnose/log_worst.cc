#include "src/diagnose/log_worst.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

}  // namespace

WorstHourFinder::WorstHourFinder() { now_.columns.resize(kChartColumns); }

void WorstHourFinder::add(const Sample& sample, const std::array<double, 2>& away) {
  const double hour = std::floor(sample.clock / kHourSeconds);
  if (hour != hour_) {
    close_hour();
    hour_ = hour;
    now_.start = hour * kHourSeconds;
  }
  const double apart = std::abs(away[0] - away[1]);
  now_.swing_volts = std::max({now_.swing_volts, apart, std::abs(away[0]), std::abs(away[1])});
  const double share = (sample.clock - now_.start) / kHourSeconds;
  const auto at = static_cast<std::size_t>(share * static_cast<double>(kChartColumns));
  ChartColumn& column = now_.columns[std::min(at, kChartColumns - 1)];
  for (std::size_t leg = 0; leg < 2; ++leg) {
    const double volts = sample.volts[leg];
    column.least[leg] = column.any ? std::min(column.least[leg], volts) : volts;
    column.most[leg] = column.any ? std::max(column.most[leg], volts) : volts;
  }
  column.any = true;
}

void WorstHourFinder::close_hour() {
  if (hour_ && (!worst_ || now_.swing_volts > worst_->swing_volts)) worst_ = now_;
  now_.swing_volts = 0;
  std::fill(now_.columns.begin(), now_.columns.end(), ChartColumn{});
}

std::optional<WorstHour> WorstHourFinder::finish() {
  close_hour();
  return worst_;
}

}  // namespace evenleg
