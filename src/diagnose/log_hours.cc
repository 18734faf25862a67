#include "src/diagnose/log_hours.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

constexpr int kHoursOfDay = 24;
constexpr std::size_t kRatiosKept = 512;
constexpr std::size_t kChangesKept = 512;
constexpr std::size_t kFewestRatios = 8;  // judgement: a median of fewer says little

}  // namespace

std::optional<Quartiles> quartiles(std::vector<float> values, std::size_t fewest) {
  if (values.size() < fewest || values.empty()) return std::nullopt;
  std::sort(values.begin(), values.end());
  const auto at = [&](double share) {
    return static_cast<double>(
        values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))]);
  };
  constexpr double kQuarter = 0.25, kHalf = 0.5;
  return Quartiles{at(kQuarter), at(kHalf), at(1 - kQuarter)};
}

LogHours::LogHours(double cosine) : cosine_(cosine), ratios_(kRatiosKept), changes_(kChangesKept) {}

void LogHours::add(const Sample& sample) {
  const double hour = std::floor(sample.clock / kHourSeconds);
  if (hour != hour_) {
    close_hour();
    hour_ = hour;
    now_.start = hour * kHourSeconds;
  }
  ++now_.samples;
  // Of the day before as well: hours before 1970, or before the recorder's own start, are negative.
  const auto of_day = static_cast<std::size_t>(hour - kHoursOfDay * std::floor(hour / kHoursOfDay));
  HourOfDay& day = by_hour_[of_day];
  ++day.samples;
  const bool amps = !std::isnan(sample.amps[0]) && !std::isnan(sample.amps[1]);
  if (amps) ++day.amps_samples;
  for (std::size_t leg = 0; leg < 2; ++leg) {
    sums_[leg] += sample.volts[leg];
    day.mean_volts[leg] += sample.volts[leg];
    if (amps) day.mean_amps[leg] += sample.amps[leg];
  }
}

void LogHours::close_hour() {
  if (now_.samples > 0) {
    for (std::size_t leg = 0; leg < 2; ++leg) {
      now_.mean_volts[leg] = sums_[leg] / static_cast<double>(now_.samples);
    }
    if (const auto ratio = quartiles(ratios_.items(), kFewestRatios)) now_.ratio = ratio->median;
    now_.ohms = ohms_from_changes(changes_.items(), cosine_);
    if (hours_.size() < kMostHours) {
      hours_.push_back(now_);
    } else {
      ++not_listed_;
    }
  }
  now_ = {};
  sums_ = {};
  ratios_.clear();
  changes_.clear();
}

void LogHours::finish(LogResult& result) {
  close_hour();
  result.hours = std::move(hours_);
  result.hours_not_listed = not_listed_;
  for (HourOfDay& day : by_hour_) {
    for (std::size_t leg = 0; leg < 2; ++leg) {
      if (day.samples > 0) day.mean_volts[leg] /= static_cast<double>(day.samples);
      if (day.amps_samples > 0) day.mean_amps[leg] /= static_cast<double>(day.amps_samples);
    }
  }
  result.by_hour = by_hour_;
}

}  // namespace evenleg
