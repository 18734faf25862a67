#include "evenleg/tables/flicker.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

// IEC 61000-3-3, clause 4.2.4; the formula from memory.
constexpr double kSecondsOfUnitChange = 2.3;
constexpr double kExponent = 3.2;
constexpr double kLeastSpacing = 1;  // s
constexpr double kSecondsPerMinute = 60;

double percent_of(const FlickerPoint& point, FlickerLamp lamp) {
  return lamp == FlickerLamp::V230 ? point.percent_230 : point.percent_120;
}

}  // namespace

FlickerLamp lamp_for(double nominal_volts) {
  constexpr double kBetween = 170;  // V, half way between the lamps' 120 V and 220 V
  return nominal_volts > kBetween ? FlickerLamp::V230 : FlickerLamp::V120;
}

std::optional<double> change_for_pst_1(const FlickerTables& tables, FlickerLamp lamp,
                                       double changes_per_minute) {
  const std::vector<FlickerPoint>& points = tables.points;
  const auto above = std::find_if(points.begin(), points.end(), [&](const FlickerPoint& point) {
    return point.changes_per_minute >= changes_per_minute;
  });
  if (above == points.end()) return std::nullopt;
  if (above->changes_per_minute == changes_per_minute) return percent_of(*above, lamp);
  if (above == points.begin()) return std::nullopt;
  const FlickerPoint& below = *(above - 1);
  const double along = std::log(changes_per_minute / below.changes_per_minute) /
                       std::log(above->changes_per_minute / below.changes_per_minute);
  return percent_of(below, lamp) *
         std::pow(percent_of(*above, lamp) / percent_of(below, lamp), along);
}

std::optional<double> pst_by_table(const FlickerTables& tables, FlickerLamp lamp,
                                   double change_percent, double changes_per_minute) {
  const auto unit = change_for_pst_1(tables, lamp, changes_per_minute);
  if (!unit) return std::nullopt;
  return std::abs(change_percent) / *unit;
}

double least_change_for_pst_1(const FlickerTables& tables, FlickerLamp lamp) {
  double least = percent_of(tables.points.front(), lamp);
  for (const FlickerPoint& point : tables.points) least = std::min(least, percent_of(point, lamp));
  return least;
}

double impression_seconds(double change_percent, double shape_factor) {
  return kSecondsOfUnitChange * std::pow(shape_factor * std::abs(change_percent), kExponent);
}

double analytical_pst(std::span<const VoltageChange> changes, double period_seconds) {
  double seconds = 0;
  for (const VoltageChange& change : changes) {
    seconds += impression_seconds(change.percent, change.shape_factor);
  }
  return std::pow(seconds / period_seconds, 1 / kExponent);
}

double analytical_pst(double change_percent, double changes_per_minute) {
  const double seconds = changes_per_minute * impression_seconds(change_percent, 1);
  return std::pow(seconds / kSecondsPerMinute, 1 / kExponent);
}

bool spaced_for_formula(double changes_per_minute) {
  return kSecondsPerMinute / changes_per_minute > kLeastSpacing;
}

double change_on_230_volt_lamp(const FlickerTables& tables, FlickerLamp lamp, double change_percent,
                               double changes_per_minute) {
  const auto of_230 = change_for_pst_1(tables, FlickerLamp::V230, changes_per_minute);
  const auto of_lamp = change_for_pst_1(tables, lamp, changes_per_minute);
  return of_230 && of_lamp ? change_percent * *of_230 / *of_lamp : change_percent;
}

double changes_per_minute_of_starts(double starts_per_hour) {
  constexpr double kIntervalMinutes = 10;
  constexpr double kIntervalsPerHour = 6;
  const double starts_in_interval = std::max(1.0, starts_per_hour / kIntervalsPerHour);
  return 2 * starts_in_interval / kIntervalMinutes;
}

}  // namespace evenleg
