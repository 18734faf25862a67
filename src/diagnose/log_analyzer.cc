#include <algorithm>
#include <cmath>

#include "evenleg/diagnose/log.h"
#include "src/diagnose/log_events.h"
#include "src/diagnose/log_flicker.h"
#include "src/diagnose/log_hours.h"
#include "src/diagnose/log_reservoir.h"
#include "src/diagnose/log_rows.h"
#include "src/diagnose/log_worst.h"

namespace evenleg {
namespace {

constexpr double kSwingVolts =
    0.5;                         // a change of a leg that counts as a swing; judgement: above noise
constexpr double kStirAmps = 1;  // of a current, to tell resistances from
constexpr double kGapSteps = 3;  // steps without a sample make a gap
constexpr double kFlickerStep = 1;         // seconds between samples, at most
constexpr std::size_t kStepSamples = 512;  // held back until the step is known
constexpr std::size_t kRatiosKept = 8192;
constexpr std::size_t kChangesKept = 8192;
constexpr std::size_t kFewestRatios = 8;
constexpr double kHalfTurnDegrees = 180;

double cosine_between(const SupplySystem& system) {
  if (system.legs.size() < 2) return -1;
  const double degrees = system.legs[1].angle_degrees - system.legs[0].angle_degrees;
  return std::cos(degrees * std::acos(-1.0) / kHalfTurnDegrees);
}

double median_step(const std::vector<Sample>& samples) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const double step = samples[i].order - samples[i - 1].order;
    if (step > 0) steps.push_back(step);
  }
  if (steps.empty()) return 0;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return *middle;
}

}  // namespace

struct LogAnalyzer::State {
  explicit State(LogOptions given)
      : options(std::move(given)),
        cosine(cosine_between(options.system)),
        rows(options.name, options.dates, [this](const Sample& sample) { take(sample); }),
        events(options.system.nominal_volts, cosine),
        flicker(options.flicker, options.system.nominal_volts),
        hours(cosine),
        ratios(kRatiosKept),
        changes(kChangesKept) {}

  // Samples wait until there are enough to know the step.
  void take(const Sample& sample) {
    if (step_known) return analyse(sample);
    waiting.push_back(sample);
    if (waiting.size() == kStepSamples) release();
  }

  void release() {
    result.step_seconds = median_step(waiting);
    step_known = true;
    for (const Sample& sample : waiting) analyse(sample);
    waiting.clear();
  }

  void analyse(const Sample& sample) {
    std::optional<std::array<double, 2>> change;
    double since = 0;
    if (analysed == 0) {
      result.first = sample.clock;
    } else {
      since = sample.order - last.order;
      if (since > kGapSteps * result.step_seconds) {
        add_gap(since);
        events.end();
      } else {
        change = {sample.volts[0] - last.volts[0], sample.volts[1] - last.volts[1]};
      }
    }
    add_range(sample);
    events.add(sample, since);
    worst.add(sample, events.away());
    hours.add(sample);  // before what belongs to the hour
    if (change) swing(*change, sample);
    if (result.step_seconds <= kFlickerStep) flicker.add(sample, change, since);
    last = sample;
    ++analysed;
  }

  void add_range(const Sample& sample) {
    for (std::size_t leg = 0; leg < 2; ++leg) {
      const double volts = sample.volts[leg];
      result.least[leg] = analysed == 0 ? volts : std::min(result.least[leg], volts);
      result.most[leg] = analysed == 0 ? volts : std::max(result.most[leg], volts);
      sums[leg] += volts;
    }
  }

  void add_gap(double seconds) {
    ++result.gaps;
    result.gap_seconds += seconds;
    auto& gaps = result.longest_gaps;
    gaps.push_back({last.clock, seconds});
    if (gaps.size() <= kMostGaps) return;
    gaps.erase(std::min_element(gaps.begin(), gaps.end(), [](const LogGap& a, const LogGap& b) {
      return a.seconds < b.seconds;
    }));
  }

  void swing(const std::array<double, 2>& change, const Sample& sample) {
    if (std::max(std::abs(change[0]), std::abs(change[1])) >= kSwingVolts) {
      const double ratio = swing_ratio(change[0], change[1]);
      count(result.swings, kind_of_swing(ratio, cosine));
      ratios.add(static_cast<float>(ratio));
      hours.add_ratio(ratio);
      const double apart = (change[0] - change[1]) / 2;
      const double together = (change[0] + change[1]) / 2;
      apart_squares += apart * apart;
      together_squares += together * together;
    }
    if (options.system.legs.size() > 2) return;  // the third leg's current is not in the log
    const double one = sample.amps[0] - last.amps[0];
    const double two = sample.amps[1] - last.amps[1];
    if (std::isnan(one) || std::isnan(two)) return;
    if (std::max(std::abs(one), std::abs(two)) < kStirAmps) return;
    const LogChange both{{static_cast<float>(change[0]), static_cast<float>(change[1])},
                         {static_cast<float>(one), static_cast<float>(two)}};
    changes.add(both);
    hours.add_change(both);
  }

  void hand_over_counts() {
    const LogRowCounts& counts = rows.counts();
    result.rows = counts.rows;
    result.bad_rows = counts.bad_rows;
    result.first_bad_line = counts.first_bad_line;
    result.first_bad_why = counts.first_bad_why;
    result.clock_back = counts.clock_back;
    result.clock_back_at = counts.clock_back_at;
    result.has_clock = counts.has_clock;
    result.zones = static_cast<int>(counts.zones.size());
    result.unused_columns = rows.unused_columns();
    result.has_amps = rows.has_amps();
    result.cosine = cosine;
    result.third_leg = options.system.legs.size() > 2;
    result.last = last.clock;
  }

  LogResult finish() {
    rows.finish();
    if (!step_known) release();
    events.end();
    hand_over_counts();
    for (std::size_t leg = 0; leg < 2; ++leg) {
      result.mean[leg] = sums[leg] / static_cast<double>(analysed);
    }
    if (const auto found = quartiles(ratios.items(), kFewestRatios)) {
      result.ratio = found->median;
      result.ratio_quartiles = {found->low, found->high};
    }
    const double swings = static_cast<double>(std::max<std::int64_t>(1, result.swings.all()));
    result.apart_volts = std::sqrt(apart_squares / swings);
    result.together_volts = std::sqrt(together_squares / swings);
    result.events = events.counts();
    result.dips = events.dips();
    result.swells = events.swells();
    result.deepest = events.deepest();
    result.ohms = ohms_from_changes(changes.items(), cosine);
    hours.finish(result);
    if (result.step_seconds > 0 && result.step_seconds <= kFlickerStep) {
      result.flicker = flicker.finish();
    }
    result.worst = worst.finish();
    return std::move(result);
  }

  LogOptions options;
  double cosine;
  LogRows rows;
  LogEvents events;
  LogFlicker flicker;
  LogHours hours;
  WorstHourFinder worst;
  Reservoir<float> ratios;
  Reservoir<LogChange> changes;
  std::vector<Sample> waiting;
  bool step_known = false;
  std::int64_t analysed = 0;
  Sample last;
  std::array<double, 2> sums{};
  double apart_squares = 0, together_squares = 0;
  LogResult result;
};

LogAnalyzer::LogAnalyzer(LogOptions options)
    : state_(std::make_unique<State>(std::move(options))) {}

LogAnalyzer::~LogAnalyzer() = default;

void LogAnalyzer::feed(std::string_view bytes) { state_->rows.feed(bytes); }

LogResult LogAnalyzer::finish() { return state_->finish(); }

}  // namespace evenleg
