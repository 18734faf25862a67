#include "src/diagnose/log_events.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

constexpr double kEventShare = 0.025;  // of nominal: 3 V of 120 V, what people see; judgement
constexpr double kOverShare = 0.5;     // of that, for both legs, and the event is over
constexpr double kMeanSeconds = 300;   // time constant of the mean
constexpr double kHeldSeconds = 3600;  // and within an event, so that a new level becomes the mean
constexpr double kDip = 0.9;           // of nominal
constexpr double kSwell = 1.1;
// Of the smaller move to the larger. Between them a leg moves alone.
constexpr double kApart = 0.3;  // of the cosine of the angle between the legs
constexpr double kTogether = 0.5;

bool shallower(const LogEvent& a, const LogEvent& b) { return a.depth() > b.depth(); }

}  // namespace

double LogEvent::depth() const { return std::max(std::abs(volts[0]), std::abs(volts[1])); }

double swing_ratio(double one, double other) {
  const bool first_larger = std::abs(one) >= std::abs(other);
  const double larger = first_larger ? one : other;
  return larger == 0 ? 0 : (first_larger ? other : one) / larger;
}

SwingKind kind_of_swing(double ratio, double cosine) {
  if (ratio < kApart * cosine) return SwingKind::Apart;
  return ratio > kTogether ? SwingKind::Together : SwingKind::OneLeg;
}

void count(SwingCounts& counts, SwingKind kind) {
  if (kind == SwingKind::Apart) ++counts.apart;
  if (kind == SwingKind::OneLeg) ++counts.one_leg;
  if (kind == SwingKind::Together) ++counts.together;
}

void LogEvents::add(const Sample& sample, double seconds_since_last) {
  if (!started_) {
    mean_ = sample.volts;
    started_ = true;
  }
  double furthest = 0;
  for (std::size_t leg = 0; leg < 2; ++leg) {
    away_[leg] = sample.volts[leg] - mean_[leg];
    furthest = std::max(furthest, std::abs(away_[leg]));
  }
  const double threshold = kEventShare * nominal_;
  if (!open_ && furthest > threshold) {
    open_ = true;
    event_ = {sample.clock, 0, away_, SwingKind::OneLeg};
    begin_order_ = sample.order;
    dip_ = swell_ = false;
  }
  if (open_ && furthest < kOverShare * threshold) close();
  if (open_) {
    event_.seconds = sample.order - begin_order_;
    if (furthest > event_.depth()) event_.volts = away_;
    for (const double volts : sample.volts) {
      dip_ = dip_ || volts < kDip * nominal_;
      swell_ = swell_ || volts > kSwell * nominal_;
    }
  }
  const double constant = open_ ? kHeldSeconds : kMeanSeconds;
  const double share = std::min(1.0, seconds_since_last / constant);
  for (std::size_t leg = 0; leg < 2; ++leg) mean_[leg] += share * away_[leg];
}

void LogEvents::end() {
  if (open_) close();
  started_ = false;
}

void LogEvents::close() {
  open_ = false;
  event_.kind = kind_of_swing(swing_ratio(event_.volts[0], event_.volts[1]), cosine_);
  count(counts_, event_.kind);
  if (dip_) ++dips_;
  if (swell_) ++swells_;
  keep(event_);
}

void LogEvents::keep(const LogEvent& event) {
  if (kept_.size() == kMostEvents) {
    if (event.depth() <= kept_.front().depth()) return;
    std::pop_heap(kept_.begin(), kept_.end(), shallower);
    kept_.pop_back();
  }
  kept_.push_back(event);
  std::push_heap(kept_.begin(), kept_.end(), shallower);
}

std::vector<LogEvent> LogEvents::deepest() const {
  std::vector<LogEvent> events = kept_;
  std::sort(events.begin(), events.end(),
            [](const LogEvent& a, const LogEvent& b) { return a.start < b.start; });
  return events;
}

}  // namespace evenleg
