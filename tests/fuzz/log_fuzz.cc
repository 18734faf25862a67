// A log of any bytes gives a result that holds only numbers, or an Error that tells a fault, and
// how the bytes are cut into pieces makes no difference.
//
// The first byte chooses: the order of dates (two bits), then the supply (one bit), then the size
// of the pieces (five bits, as 2^n + n: from 1 byte to more than the longest line).
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/error.h"
#include "evenleg/diagnose/log.h"
#include "evenleg/tables/tables.h"
#include "tests/fuzz/holds.h"

using namespace evenleg;

namespace {

constexpr std::uint8_t kDatesMask = 3, kWyeBit = 4;
constexpr unsigned kPieceShift = 3, kLargestPiece = 17;

// All that is compared of a result: its numbers, one after another, and its words.
struct Flat {
  std::vector<double> numbers;
  std::vector<std::string> words;

  bool operator==(const Flat&) const = default;
  template <class... Numbers>
  void add(const Numbers&... more) {
    (numbers.push_back(static_cast<double>(more)), ...);
  }
  void add_pair(const std::array<double, 2>& pair) { add(pair[0], pair[1]); }
};

void add_ohms(Flat& flat, const std::optional<OhmsEstimate>& ohms) {
  flat.add(ohms.has_value());
  if (ohms) flat.add(ohms->r1, ohms->r2, ohms->rn, ohms->rn_error, ohms->changes);
}

void add_counts(Flat& flat, const SwingCounts& counts) {
  flat.add(counts.apart, counts.one_leg, counts.together);
}

void add_hours(Flat& flat, const LogResult& log) {
  for (const LogHour& hour : log.hours) {
    flat.add(hour.start, hour.samples, hour.ratio.value_or(0));
    flat.add_pair(hour.mean_volts);
    add_ohms(flat, hour.ohms);
  }
  std::int64_t samples = 0;
  for (const HourOfDay& hour : log.by_hour) {
    flat.add(hour.samples, hour.amps_samples);
    flat.add_pair(hour.mean_volts);
    flat.add_pair(hour.mean_amps);
    samples += hour.samples;
  }
  fuzz::holds(samples == log.rows, "every row is of an hour of the day");
}

void add_worst(Flat& flat, const WorstHour& worst) {
  flat.add(worst.start, worst.swing_volts);
  bool any = false;
  for (const ChartColumn& column : worst.columns) {
    flat.add(column.any);
    flat.add_pair(column.least);
    flat.add_pair(column.most);
    any = any || column.any;
  }
  fuzz::holds(any, "the worst hour has samples");
}

Flat flat_of(const LogResult& log) {
  Flat flat;
  flat.words = log.unused_columns;
  flat.words.push_back(log.first_bad_why);
  flat.add(log.rows, log.bad_rows, log.first_bad_line, log.has_amps, log.cosine, log.third_leg,
           log.has_clock, log.first, log.last, log.step_seconds, log.gaps, log.gap_seconds,
           log.clock_back, log.clock_back_at, log.zones, log.ratio.value_or(0), log.apart_volts,
           log.together_volts, log.dips, log.swells, log.hours_not_listed);
  for (const auto& pair : {log.least, log.most, log.mean, log.ratio_quartiles}) flat.add_pair(pair);
  for (const LogGap& gap : log.longest_gaps) flat.add(gap.start, gap.seconds);
  add_counts(flat, log.swings);
  add_counts(flat, log.events);
  for (const LogEvent& event : log.deepest) {
    flat.add(event.start, event.seconds, event.kind);
    flat.add_pair(event.volts);
  }
  add_ohms(flat, log.ohms);
  add_hours(flat, log);
  if (log.flicker) {
    for (const LegFlicker& leg : *log.flicker) {
      flat.add(leg.windows, leg.over_one, leg.highest, leg.highest_at);
    }
  }
  fuzz::holds(log.worst.has_value(), "there is a worst hour");
  add_worst(flat, *log.worst);
  return flat;
}

Flat analysed(std::string_view bytes, const LogOptions& options, std::size_t piece) {
  Flat flat;
  try {
    LogAnalyzer analyzer(options);
    for (std::string_view rest = bytes; !rest.empty();) {
      const std::string_view next = rest.substr(0, piece);
      analyzer.feed(next);
      rest.remove_prefix(next.size());
    }
    flat = flat_of(analyzer.finish());
  } catch (const Error& error) {
    fuzz::holds(error.kind() == ErrorKind::Request && !error.faults().empty(), "told as faults");
    for (const Fault& fault : error.faults()) flat.words.push_back(line(fault));
  }
  for (const double number : flat.numbers) fuzz::holds(std::isfinite(number), "a number");
  return flat;
}

LogOptions options_for(std::uint8_t choice) {
  static const Tables kTables = load_tables();
  static const Vocabulary kWords = vocabulary(kTables);
  LogOptions options;
  const bool wye = (choice & kWyeBit) != 0;
  options.system = *find_system(kWords, wye ? "120/208 wye" : "120/240 split-phase");
  options.flicker = kTables.flicker;
  const int dates = choice & kDatesMask;
  if (dates == 1) options.dates = DayOrder::DayFirst;
  if (dates == 2) options.dates = DayOrder::MonthFirst;
  return options;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const LogOptions options = options_for(data[0]);
  const std::string_view bytes(reinterpret_cast<const char*>(data + 1), size - 1);
  const unsigned n = (data[0] >> kPieceShift) % (kLargestPiece + 1);
  const std::size_t piece = (std::size_t{1} << n) + n;
  const Flat whole = analysed(bytes, options, bytes.size() + 1);
  fuzz::holds(analysed(bytes, options, piece) == whole, "pieces make no difference");
  return 0;
}
