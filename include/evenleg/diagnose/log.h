// A recorder's log of both legs' volts, read as it comes: what its swings, events and hours say.
//
// The log is comma, semicolon or tab separated text with a heading, fed in pieces of any size;
// memory stays bounded whatever its length (each list says how much it keeps). Nothing is read from
// disk here.
//
// Swings. Between two samples the legs move by d1 and d2. Of each pair that moves by more than
// kStirVolts, the ratio of the smaller move to the larger, by sign, lies from -1 (they move apart:
// what resistance in the neutral upstream gives; on two legs of a wye, cos φ = -1/2) over 0 (one
// leg alone) to +1 (together: the supply). Its median is a regression of one leg on the other that
// no outlier tips. Neutral. Where amperes are there, with φ the angle between the legs,
//   d1 = -R1 ΔI1 - RN (ΔI1 + ΔI2 cos φ),   d2 = -R2 ΔI2 - RN (ΔI2 + ΔI1 cos φ),
// by hour, least squares with Huber weights, for supplies of two legs (on three the third leg's
// current, which a log of two does not have, is in it as well); differences leave out the source's
// own drift. Loads count as in phase with their leg. Events. A leg further than 2.5 % of nominal
// from its mean of the last minutes, until both are back within half of that. Dips below 90 % and
// swells above 110 % are counted apart: the thresholds usual for such counts in IEC 61000-4-30 and
// IEEE 1159 (from memory). Flicker. Ten-minute windows, by the analytical method
// (tables/flicker.h), where samples are no more than a second apart; of two changes within a second
// the larger counts. Units: V, A, Ω, seconds; times are seconds of the log's own clock since 1970.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/house/vocabulary.h"
#include "evenleg/tables/motor_starting.h"

namespace evenleg {

enum class DayOrder { Unknown, DayFirst, MonthFirst };

struct LogOptions {
  std::string name = "log";            // the file, for messages
  SupplySystem system;                 // nominal volts and the legs' angles
  DayOrder dates = DayOrder::Unknown;  // of 03/04/2026
  FlickerTables flicker;
};

inline constexpr std::size_t kMostHours = 10000;   // listed; more than a year
inline constexpr std::size_t kMostEvents = 200;    // listed, the deepest
inline constexpr std::size_t kMostGaps = 20;       // listed, the longest
inline constexpr std::size_t kChartColumns = 600;  // of the worst hour: 6 s each

enum class SwingKind { Apart, OneLeg, Together };

struct SwingCounts {
  std::int64_t apart = 0;
  std::int64_t one_leg = 0;
  std::int64_t together = 0;

  [[nodiscard]] std::int64_t all() const { return apart + one_leg + together; }
};

struct LogEvent {
  double start = 0;
  double seconds = 0;             // to the last sample of it
  std::array<double, 2> volts{};  // furthest from the mean before, by sign, of each leg
  SwingKind kind = SwingKind::OneLeg;

  [[nodiscard]] double depth() const;  // the larger of both, without sign
};

struct LogGap {
  double start = 0;
  double seconds = 0;
};

struct OhmsEstimate {
  double r1 = 0, r2 = 0, rn = 0;
  double rn_error = 0;  // one standard error
  int changes = 0;      // that it rests on
};

struct LogHour {
  double start = 0;
  std::int64_t samples = 0;
  std::array<double, 2> mean_volts{};
  std::optional<double> ratio;       // median, where enough swings are there
  std::optional<OhmsEstimate> ohms;  // where the amperes change enough
};

struct HourOfDay {
  std::int64_t samples = 0;
  std::array<double, 2> mean_volts{};
  std::int64_t amps_samples = 0;
  std::array<double, 2> mean_amps{};
};

struct LegFlicker {
  int windows = 0;     // of ten minutes, at least half filled
  int over_one = 0;    // with Pst above 1
  double highest = 0;  // Pst
  double highest_at = 0;
};

// The worst hour in columns: least and most of each leg; absent where no sample fell.
struct ChartColumn {
  std::array<double, 2> least{};
  std::array<double, 2> most{};
  bool any = false;
};
struct WorstHour {
  double start = 0;
  double swing_volts = 0;  // the furthest apart that the legs moved, or either from its mean
  std::vector<ChartColumn> columns;
};

struct LogResult {
  std::int64_t rows = 0;  // with both volts and a time
  std::int64_t bad_rows = 0;
  std::int64_t first_bad_line = 0;
  std::string first_bad_why;
  std::vector<std::string> unused_columns;
  bool has_amps = false;
  double cosine = -1;      // of the angle between the legs
  bool third_leg = false;  // the supply has one, which the log does not show
  bool has_clock = true;   // false: seconds since the start only
  double first = 0, last = 0;
  double step_seconds = 0;  // median
  std::int64_t gaps = 0;
  double gap_seconds = 0;
  std::vector<LogGap> longest_gaps;
  int clock_back = 0;                             // times the clock went backwards
  double clock_back_at = 0;                       // the first of them
  int zones = 0;                                  // different offsets from UTC in the stamps
  std::array<double, 2> least{}, most{}, mean{};  // volts

  SwingCounts swings;
  std::optional<double> ratio;  // median over all
  std::array<double, 2> ratio_quartiles{};
  double apart_volts = 0;     // root mean square of (d1 - d2) / 2 over the swings
  double together_volts = 0;  // and of (d1 + d2) / 2

  SwingCounts events;
  std::int64_t dips = 0, swells = 0;  // events beyond 90 % and 110 % of nominal
  std::vector<LogEvent> deepest;      // in time order

  std::optional<OhmsEstimate> ohms;  // over all
  std::vector<LogHour> hours;
  std::int64_t hours_not_listed = 0;
  std::array<HourOfDay, 24> by_hour{};
  std::optional<std::array<LegFlicker, 2>> flicker;  // absent: sampled too slowly
  std::optional<WorstHour> worst;
};

class LogAnalyzer {
 public:
  explicit LogAnalyzer(LogOptions options);
  ~LogAnalyzer();
  LogAnalyzer(const LogAnalyzer&) = delete;
  LogAnalyzer& operator=(const LogAnalyzer&) = delete;

  // Throws: Error(Request) for a log without usable columns or with dates of unknown order.
  void feed(std::string_view bytes);
  // Throws: Error(Request) for a log without a usable row.
  [[nodiscard]] LogResult finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace evenleg
