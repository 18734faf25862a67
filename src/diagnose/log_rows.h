// A log's bytes to samples: lines, heading, fields, numbers, time.
//
// A line longer than kLongestLine is no row; NUL bytes and other noise make bad rows, which are
// counted. Where stamps carry a zone, order is by UTC and hours are those of the stamp; where they
// do not, a clock that goes back by up to two hours and a little is taken for daylight saving, and
// the order goes on from there.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "src/diagnose/log_columns.h"
#include "src/diagnose/log_time.h"

namespace evenleg {

inline constexpr double kHourSeconds = 3600;

struct Sample {
  double order = 0;  // seconds that never go backwards
  double clock = 0;  // of the log's own clock, for hours of the day
  std::array<double, 2> volts{};
  std::array<double, 2> amps{};  // NaN where not recorded
};

struct LogRowCounts {
  std::int64_t rows = 0;
  std::int64_t bad_rows = 0;
  std::int64_t first_bad_line = 0;
  std::string first_bad_why;
  int clock_back = 0;
  double clock_back_at = 0;
  bool has_clock = true;
  std::set<double> zones;
};

class LogRows {
 public:
  LogRows(std::string name, DayOrder dates, std::function<void(const Sample&)> take)
      : name_(std::move(name)), take_(std::move(take)) {
    stamps_.order = dates;
  }

  // Throws: Error(Request), as LogAnalyzer.
  void feed(std::string_view bytes);
  void finish();
  [[nodiscard]] const LogRowCounts& counts() const { return counts_; }
  [[nodiscard]] const std::vector<std::string>& unused_columns() const { return columns_.unused; }
  [[nodiscard]] bool has_amps() const;

 private:
  void line(std::string_view text);
  void heading(std::string_view text);
  void row(std::string_view text);
  void bad(const char* why);
  [[nodiscard]] bool number(std::string_view text, double& value);
  [[nodiscard]] bool in_order(const Stamp& stamp, Sample& sample);

  std::string name_;
  StampMemory stamps_;
  std::function<void(const Sample&)> take_;
  std::string carry_;      // an unfinished line
  bool too_long_ = false;  // and more of it than is kept
  std::int64_t lines_ = 0;
  bool headed_ = false;
  std::vector<LogField> nearest_;  // what the best of the lines before the heading had
  LogColumns columns_;
  LogRowCounts counts_;
  double last_order_ = 0;
  double added_ = 0;  // to the clock, since it went backwards
  std::vector<std::string_view> fields_;
  std::string unquoted_;
  std::string joined_;  // date and time of two columns
};

}  // namespace evenleg
