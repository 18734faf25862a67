#include "src/diagnose/log_time.h"

#include <charconv>
#include <chrono>
#include <cmath>

namespace evenleg {
namespace {

constexpr double kDay = 86400;
constexpr double kHour = 3600;
constexpr double kMinute = 60;

// Reads a stamp from the left.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  [[nodiscard]] bool at_end() const { return text_.empty(); }
  [[nodiscard]] char next() const { return text_.empty() ? '\0' : text_.front(); }
  bool take(char c) {
    if (next() != c) return false;
    text_.remove_prefix(1);
    return true;
  }
  void skip_spaces() {
    while (next() == ' ') text_.remove_prefix(1);
  }
  // An unsigned whole number; -1 when there is none.
  int whole() {
    int value = -1;
    if (next() < '0' || next() > '9') return -1;
    const auto [end, fault] = std::from_chars(text_.data(), text_.data() + text_.size(), value);
    if (fault != std::errc()) return -1;
    text_.remove_prefix(static_cast<std::size_t>(end - text_.data()));
    return value;
  }
  // A number of seconds, with a point or a comma.
  double seconds() {
    const int full = whole();
    if (full < 0 || (next() != '.' && next() != ',')) return full;
    text_.remove_prefix(1);
    constexpr double kTenth = 0.1;
    double value = full;
    for (double digit = kTenth; next() >= '0' && next() <= '9'; digit *= kTenth) {
      value += digit * (next() - '0');
      text_.remove_prefix(1);
    }
    return value;
  }

 private:
  std::string_view text_;
};

// Requires: no number is negative.
std::optional<double> day_seconds(int year, int month, int day, StampMemory& memory) {
  constexpr int kMostYears = 9999, kMostMonths = 12, kMostDays = 31;
  if (year > kMostYears || month > kMostMonths || day > kMostDays) return std::nullopt;
  constexpr int kMonths = 16, kDays = 32;
  const int packed = (year * kMonths + month) * kDays + day;
  if (packed == memory.day) return memory.day_seconds;
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return std::nullopt;
  memory.day = packed;
  memory.day_seconds =
      static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count()) * kDay;
  return memory.day_seconds;
}

struct Date {
  StampFault fault = StampFault::NotATime;
  double seconds = 0;
};

Date read_date(Reader& in, StampMemory& memory) {
  DayOrder& order = memory.order;
  constexpr int kFirstYear = 1000;  // four digits
  constexpr int kMonths = 12;
  const int a = in.whole();
  const char mark = in.next();
  if (a < 0 || (mark != '-' && mark != '.' && mark != '/')) return {};
  in.take(mark);
  const int b = in.whole();
  if (b < 0 || !in.take(mark)) return {};
  const int c = in.whole();
  if (c < 0) return {};
  std::optional<double> seconds;
  if (a >= kFirstYear) {
    seconds = day_seconds(a, b, c, memory);
  } else {
    if (mark == '.') order = DayOrder::DayFirst;
    if (order == DayOrder::Unknown && a > kMonths) order = DayOrder::DayFirst;
    if (order == DayOrder::Unknown && b > kMonths) order = DayOrder::MonthFirst;
    if (order == DayOrder::Unknown) return {StampFault::OrderUnknown, 0};
    seconds =
        order == DayOrder::DayFirst ? day_seconds(c, b, a, memory) : day_seconds(c, a, b, memory);
  }
  if (!seconds) return {};
  return {StampFault::None, *seconds};
}

// Hours, minutes and seconds; negative when they are none.
double read_clock(Reader& in) {
  constexpr int kNoon = 12, kMostHours = 24;  // midnight may be the end of a day
  constexpr double kLeapSecond = 61;
  const int hour = in.whole();
  if (hour < 0 || hour > kMostHours || !in.take(':')) return -1;
  const int minute = in.whole();
  if (minute < 0 || minute >= kMinute) return -1;
  const double second = in.take(':') ? in.seconds() : 0;
  if (second < 0 || second >= kLeapSecond) return -1;
  in.skip_spaces();
  int hours = hour;
  const bool morning = in.take('A') || in.take('a');
  const bool evening = !morning && (in.take('P') || in.take('p'));
  if (morning || evening) {
    if (!in.take('M') && !in.take('m')) return -1;
    hours = hour % kNoon + (evening ? kNoon : 0);
  }
  return hours * kHour + minute * kMinute + second;
}

// The offset from UTC, if the stamp ends with one. Signs that no offset follows are not taken.
std::optional<double> read_offset(Reader& in) {
  if (in.take('Z') || in.take('z')) return 0;
  const Reader before = in;
  const bool west = in.take('-');
  if (!west && !in.take('+')) return std::nullopt;
  constexpr int kCompact = 100;  // +0530
  int hours = in.whole();
  int minutes = 0;
  if (in.take(':')) {
    minutes = in.whole();
  } else if (hours >= kCompact) {
    minutes = hours % kCompact;
    hours /= kCompact;
  }
  constexpr int kMostHours = 24;
  if (hours < 0 || hours >= kMostHours || minutes < 0 || minutes >= kMinute) {
    in = before;
    return std::nullopt;
  }
  const double seconds = hours * kHour + minutes * kMinute;
  return west ? -seconds : seconds;
}

StampResult plain_number(std::string_view text) {
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) {
    return {StampFault::NotATime, {}};
  }
  constexpr double kMost = 253402300800;  // seconds to the year 10000, as the dates have it
  constexpr double kMilliseconds = 1e12;  // since 1970: later than 2001
  constexpr double kSeconds = 1e9;
  constexpr double kMilli = 1000;
  if (value < -kMost || value > kMost * kMilli) return {StampFault::NotATime, {}};
  if (value >= kMilliseconds) return {StampFault::None, {value / kMilli, 0.0, true}};
  if (value >= kSeconds) return {StampFault::None, {value, 0.0, true}};
  return {StampFault::None, {value, std::nullopt, false}};
}

}  // namespace

StampResult read_stamp(std::string_view text, StampMemory& memory) {
  if (text.find(':') == std::string_view::npos) return plain_number(text);
  Reader in(text);
  const Date date = read_date(in, memory);
  if (date.fault != StampFault::None) return {date.fault, {}};
  if (!in.take('T') && !in.take('t')) in.skip_spaces();
  const double clock = read_clock(in);
  if (clock < 0) return {StampFault::NotATime, {}};
  in.skip_spaces();
  Stamp stamp{date.seconds + clock, read_offset(in), true};
  if (!in.at_end()) return {StampFault::NotATime, {}};
  return {StampFault::None, stamp};
}

}  // namespace evenleg
