#include "src/diagnose/reading_time.h"

#include <charconv>
#include <chrono>
#include <string_view>

namespace evenleg {
namespace {

// The digits at a place of the text; -1 when they are not there.
int digits(std::string_view text, std::size_t at, std::size_t count) {
  if (text.size() < at + count) return -1;
  int value = -1;
  const char* end = text.data() + at + count;
  const auto [stop, fault] = std::from_chars(text.data() + at, end, value);
  return fault == std::errc() && stop == end ? value : -1;
}

}  // namespace

std::optional<double> seconds_of(const std::string& time) {
  constexpr std::size_t kMonthAt = 5, kDayAt = 8, kHourAt = 11, kMinuteAt = 14, kSecondAt = 17;
  constexpr std::size_t kYearDigits = 4;
  const int year = digits(time, 0, kYearDigits);
  const int month = digits(time, kMonthAt, 2);
  const int day = digits(time, kDayAt, 2);
  const int hour = digits(time, kHourAt, 2);
  const int minute = digits(time, kMinuteAt, 2);
  const int second = std::max(0, digits(time, kSecondAt, 2));
  if (year < 0 || month < 1 || day < 1 || hour < 0 || minute < 0) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return std::nullopt;
  const auto moment = std::chrono::sys_days(date) + std::chrono::hours(hour) +
                      std::chrono::minutes(minute) + std::chrono::seconds(second);
  return static_cast<double>(moment.time_since_epoch().count());
}

}  // namespace evenleg
