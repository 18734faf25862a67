#include "src/diagnose/probes.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "evenleg/base/percent.h"
#include "src/diagnose/reading_time.h"

namespace evenleg {
namespace {

double spread_of_limit(double limit) { return limit / std::sqrt(3.0); }  // uniform within ± limit

int wire_for(const ReadPoint& point, int leg) {
  if (leg == kGround) return kGround;
  return leg == kNeutral ? point.neutral() : point.wire_of_leg(leg);
}

bool is_multiple(double value, double step) {
  constexpr double kSlack = 1e-6;  // of a step: decimal fractions are not exact in binary
  const double steps = value / step;
  return std::abs(steps - std::round(steps)) < kSlack;
}

// "start", "starts", "starting", as a word.
bool says_start(const std::string& label) {
  std::string text = " ";
  for (const char c : label) {
    const bool letter = std::isalpha(static_cast<unsigned char>(c)) != 0;
    text += letter ? static_cast<char>(std::tolower(static_cast<unsigned char>(c))) : ' ';
  }
  return text.find(" start") != std::string::npos;
}

// Within minutes of each other, as far as their times say.
bool soon_after(const Reading& one, const Reading& other) {
  constexpr double kSeconds =
      600;  // judgement: a visit takes a start and what runs after it at once
  const auto a = seconds_of(one.time.value_or(""));
  const auto b = seconds_of(other.time.value_or(""));
  return !a || !b || std::abs(*a - *b) <= kSeconds;
}

// All legs that both have, to neutral, and at least one.
bool dips_below(const Reading& low, const Reading& high) {
  constexpr double kStartDip = 0.025;  // judgement: beyond the supply's own wander within minutes
  constexpr std::size_t kLegs = 3;     // the first keys: each leg to neutral
  bool any = false;
  for (std::size_t k = 0; k < kLegs; ++k) {
    const auto member = volts_keys()[k].member;
    if (!(low.*member) || !(high.*member)) continue;
    if (*(low.*member) > (1 - kStartDip) * *(high.*member)) return false;
    any = true;
  }
  return any;
}

}  // namespace

const std::vector<VoltsKey>& volts_keys() {
  static const std::vector<VoltsKey> keys{
      {"l1_n_volts", &Reading::l1_n_volts, 0, kNeutral},
      {"l2_n_volts", &Reading::l2_n_volts, 1, kNeutral},
      {"l3_n_volts", &Reading::l3_n_volts, 2, kNeutral},
      {"l1_l2_volts", &Reading::l1_l2_volts, 0, 1},
      {"l2_l3_volts", &Reading::l2_l3_volts, 1, 2},
      {"l3_l1_volts", &Reading::l3_l1_volts, 2, 0},
      {"l1_ground_volts", &Reading::l1_ground_volts, 0, kGround},
      {"l2_ground_volts", &Reading::l2_ground_volts, 1, kGround},
      {"l3_ground_volts", &Reading::l3_ground_volts, 2, kGround},
      {"neutral_ground_volts", &Reading::neutral_ground_volts, kNeutral, kGround}};
  return keys;
}

const std::vector<AmpsKey>& leg_amps_keys() {
  static const std::vector<AmpsKey> keys{{"l1_amps", &Reading::l1_amps, 0},
                                         {"l2_amps", &Reading::l2_amps, 1},
                                         {"l3_amps", &Reading::l3_amps, 2}};
  return keys;
}

bool has_clamped_legs(const Reading& reading) {
  return reading.l1_amps || reading.l2_amps || reading.l3_amps;
}

bool is_without_load(const Reading& reading) {
  if (reading.main_off) return true;
  const double clamped = reading.l1_amps.value_or(0) + reading.l2_amps.value_or(0) +
                         reading.l3_amps.value_or(0) + reading.neutral_amps.value_or(0);
  return reading.on.empty() && clamped == 0;
}

bool is_of_a_start(const std::vector<Reading>& readings, std::size_t reading) {
  const Reading& one = readings[reading];
  if (is_without_load(one)) return false;
  if (says_start(one.label.value_or(""))) return true;
  if (has_clamped_legs(one)) return false;
  return std::any_of(readings.begin(), readings.end(), [&](const Reading& other) {
    return other.at == one.at && other.on == one.on && soon_after(one, other) &&
           dips_below(one, other);
  });
}

std::optional<Probe> probe_at(const ReadPoints& points, int point, const VoltsKey& key) {
  const ReadPoint& where = points.points[static_cast<std::size_t>(point)];
  if (point == 0 && key.from == kNeutral && key.to == kGround) return std::nullopt;
  Probe probe{0, point, wire_for(where, key.from), wire_for(where, key.to), 0, 0, 0};
  if (probe.from == -1 || probe.to == -1) return std::nullopt;
  return probe;
}

double display_step(const std::vector<Reading>& readings) {
  constexpr std::array<double, 4> kSteps{1, 0.1, 0.01, 0.001};  // of hand meters' displays
  for (const double step : kSteps) {
    const bool all = std::all_of(readings.begin(), readings.end(), [&](const Reading& reading) {
      return std::all_of(volts_keys().begin(), volts_keys().end(), [&](const VoltsKey& key) {
        const std::optional<double>& volts = reading.*key.member;
        return !volts || is_multiple(*volts, step);
      });
    });
    if (all) return step;
  }
  return 0;
}

std::vector<Probe> probes_of(const std::vector<Reading>& readings, const ReadPoints& points) {
  const double half_digit = display_step(readings) / 2;
  std::vector<Probe> probes;
  for (std::size_t r = 0; r < readings.size(); ++r) {
    const Reading& reading = readings[r];
    if (is_of_a_start(readings, r)) continue;
    for (const VoltsKey& key : volts_keys()) {
      const std::optional<double>& volts = reading.*key.member;
      if (!volts) continue;
      std::optional<Probe> probe = probe_at(points, points.of_reading[r], key);
      if (!probe) continue;
      probe->reading = static_cast<int>(r);
      probe->volts = *volts;
      probe->own_error = std::hypot(spread_of_limit(reading.accuracy_volts.value_or(0)),
                                    spread_of_limit(half_digit));
      probe->gain_error = spread_of_limit(reading.accuracy_percent.value_or(0) / kPercent) * *volts;
      probes.push_back(*probe);
    }
  }
  return probes;
}

}  // namespace evenleg
