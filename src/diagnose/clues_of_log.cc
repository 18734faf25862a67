// What the swings, events and hours of a recorder's log speak for.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "src/diagnose/clues.h"

namespace evenleg {
namespace {

constexpr double kMedianApart = -0.5;  // median of the smaller move to the larger
constexpr double kMedianTogether = 0.5;
constexpr double kFourErrors = 4;
constexpr double kOhmsOverHots = 0.05;  // as between readings, clues_of_resistances.cc
constexpr double kTimesHots = 2;
constexpr double kMostOfThem = 0.5;
constexpr double kMomentSeconds = 2;
constexpr double kLevelShare = 0.04;  // of nominal, between hours of the day; judgement

class LogFinder {
 public:
  LogFinder(const Visit& visit, const LogResult& log) : visit_(visit), log_(log) {}

  Clues all() {
    swings();
    neutral();
    events();
    level_by_hour();
    return clues_;
  }

 private:
  void add(const char* pattern, double weight, std::string text) {
    clues_.push_back({pattern, weight, std::move(text)});
  }

  // Ordinary loads move a sound service as well, so that swings alone count only beside an event.
  void swings() {
    if (!log_.ratio || log_.events.all() == 0) return;
    const std::string text = fmt::format(
        "log: for each volt that one leg moved, the other moved {} V (median of {})",
        fixed(*log_.ratio, 2), counted(static_cast<std::size_t>(log_.swings.all()), "swing"));
    if (*log_.ratio < kMedianApart * log_.cosine) add("service neutral", kStrong, text);
    if (*log_.ratio > kMedianTogether) {
      add("service neutral", -kStrong, text);
      add("supply drop", kWeak, text);
    }
  }

  void neutral() {
    if (!log_.ohms) return;
    const OhmsEstimate& ohms = *log_.ohms;
    const double hots = std::max({0.0, ohms.r1, ohms.r2});
    const std::string text =
        fmt::format("log: neutral {} ± {} Ω, hots {} and {} Ω", fixed(ohms.rn, 3),
                    fixed(ohms.rn_error, 3), fixed(ohms.r1, 3), fixed(ohms.r2, 3));
    const bool high = ohms.rn > kTimesHots * hots && ohms.rn - hots > kOhmsOverHots &&
                      ohms.rn - hots > kFourErrors * ohms.rn_error;
    add("service neutral", high ? kDecisive : -kStrong, text);
  }

  void events() {
    const auto all = static_cast<double>(log_.events.all());
    if (all == 0) return;
    const auto share = [&](std::int64_t part) { return static_cast<double>(part) / all; };
    const std::string text =
        fmt::format("log: of {}, {} apart, {} of one leg, {} together",
                    counted(static_cast<std::size_t>(log_.events.all()), "event"),
                    log_.events.apart, log_.events.one_leg, log_.events.together);
    if (share(log_.events.apart) > kMostOfThem) add("service neutral", kStrong, text);
    if (share(log_.events.one_leg) > kMostOfThem) add("service hot", kWeak, text);
    if (share(log_.events.together) <= kMostOfThem) return;
    std::vector<double> seconds;
    for (const LogEvent& event : log_.deepest) {
      if (event.kind == SwingKind::Together) seconds.push_back(event.seconds);
    }
    std::sort(seconds.begin(), seconds.end());
    const double middle = seconds.empty() ? 0 : seconds[seconds.size() / 2];
    const std::string lasted =
        fmt::format("{}; half of these lasted {} s or less", text, fixed(middle, 1));
    if (middle <= kMomentSeconds) {
      add("motor start", kStrong, lasted);
      add("line disturbance", kStrong, lasted);
    } else {
      add("supply drop", kStrong, lasted);
      add("supply level", kWeak, lasted);
    }
    add("service neutral", -kStrong, text);
  }

  // Both legs' means move alike between hours of the day.
  void level_by_hour() {
    if (!log_.has_clock) return;
    const HourOfDay* low = nullptr;
    const HourOfDay* high = nullptr;
    for (const HourOfDay& hour : log_.by_hour) {
      if (hour.samples == 0) continue;
      const auto lesser = [](const HourOfDay& h) {
        return std::min(h.mean_volts[0], h.mean_volts[1]);
      };
      if (low == nullptr || lesser(hour) < lesser(*low)) low = &hour;
      if (high == nullptr || lesser(hour) > lesser(*high)) high = &hour;
    }
    if (low == nullptr) return;
    const double limit = kLevelShare * visit_.wiring.system.nominal_volts;
    const double one = high->mean_volts[0] - low->mean_volts[0];
    const double two = high->mean_volts[1] - low->mean_volts[1];
    if (one < limit || two < limit) return;
    add("supply level", kStrong + kWeak,
        fmt::format("log: by hour of day both legs' means differ by {} V and {} V", fixed(one, 1),
                    fixed(two, 1)));
  }

  const Visit& visit_;
  const LogResult& log_;
  Clues clues_;
};

}  // namespace

Clues clues_of_log(const Visit& visit) {
  return visit.log == nullptr ? Clues{} : LogFinder(visit, *visit.log).all();
}

}  // namespace evenleg
