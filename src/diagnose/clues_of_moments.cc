// Volts that moved without a change of load: a motor's start, the level of the supply over hours, a
// blink of the line.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "src/diagnose/clues.h"
#include "src/diagnose/probes.h"
#include "src/diagnose/reading_time.h"

namespace evenleg {
namespace {

constexpr double kMoved = 0.025;  // of nominal; judgement: beyond a supply's wander in minutes
constexpr double kTogetherVolts = 1.5;  // legs that move alike
constexpr double kSoonSeconds = 120;    // a blink is over within it

bool moves_together(const Move& move) {
  return std::count_if(move.volts.begin(), move.volts.end(),
                       [](const auto& one) { return one.has_value(); }) > 1 &&
         move.most(false) - move.least(false) < kTogetherVolts;
}

class MomentsFinder {
 public:
  explicit MomentsFinder(const Visit& visit) : visit_(visit), readings_(visit.house.readings) {}

  Clues all() {
    for (std::size_t r = 0; r < readings_.size(); ++r) {
      if (is_of_a_start(readings_, r)) start(r);
    }
    for (std::size_t r = 1; r < readings_.size(); ++r) supply_alone(r);
    return clues_;
  }

 private:
  void add(const char* pattern, double weight, std::string text) {
    clues_.push_back({pattern, weight, std::move(text)});
  }

  [[nodiscard]] bool has_motor(const Reading& reading) const {
    return std::any_of(reading.on.begin(), reading.on.end(), [&](const std::string& name) {
      const auto& loads = visit_.house.loads;
      const auto load = std::find_if(loads.begin(), loads.end(),
                                     [&](const Load& one) { return one.name == name; });
      if (load == loads.end()) return false;
      const LoadKind* kind = find_kind(visit_.tables, load->kind);
      const bool turns = kind != nullptr && (kind->behaviour == Behaviour::Motor ||
                                             kind->behaviour == Behaviour::Compressor);
      return turns || load->starting_amps || load->code_letter;
    });
  }

  // The reading at the same place that the start is held against: without load, else at rest.
  [[nodiscard]] std::optional<std::size_t> at_rest(std::size_t start) const {
    if (const auto beside = without_load_beside(readings_, start)) return beside;
    for (std::size_t r = 0; r < readings_.size(); ++r) {
      if (readings_[r].at == readings_[start].at && !is_of_a_start(readings_, r)) return r;
    }
    return std::nullopt;
  }

  void start(std::size_t r) {
    const auto before = at_rest(r);
    if (!before) return;
    const Move move = move_between(visit_, *before, r);
    const double nominal = visit_.wiring.system.nominal_volts;
    if (!move.any() || move.least(false) > -kMoved * nominal) return;
    const std::string text = fmt::format("{}: {}", title_of(readings_[r]), text_of(visit_, move));
    if (move.most(false) > kStirVolts) return add("service neutral", kStrong, text);
    const bool clamped = has_clamped_legs(readings_[r]);
    const bool motor = clamped || readings_[r].on.empty() || has_motor(readings_[r]);
    add(motor ? "motor start" : "line disturbance", kStrong + kWeak, text);
    if (recovers(r)) {
      add(motor ? "motor start" : "line disturbance", kWeak,
          readings_[r].at + ": the volts were back with the same loads on");
    }
  }

  [[nodiscard]] bool recovers(std::size_t start) const {
    const Reading& dip = readings_[start];
    return std::any_of(readings_.begin(), readings_.end(), [&](const Reading& other) {
      return &other != &dip && other.at == dip.at && other.on == dip.on && !dip.on.empty() &&
             !is_of_a_start(readings_, static_cast<std::size_t>(&other - readings_.data()));
    });
  }

  // Two readings without load, one after the other at one place, both legs moved alike.
  void supply_alone(std::size_t r) {
    if (!is_without_load(readings_[r])) return;
    for (std::size_t before = r; before-- > 0;) {
      if (readings_[before].at != readings_[r].at || !is_without_load(readings_[before])) continue;
      const Move move = move_between(visit_, before, r);
      const double nominal = visit_.wiring.system.nominal_volts;
      if (!moves_together(move) || std::abs(move.most(false)) < kMoved * nominal) return;
      const std::string text =
          fmt::format("{}: {} since the reading before, with nothing known to draw either time",
                      title_of(readings_[r]), text_of(visit_, move));
      const auto apart = seconds_between(before, r);
      const bool soon = apart && *apart <= kSoonSeconds;
      add("supply level", soon ? kWeak : kStrong + (apart ? kWeak : 0), text);
      add("line disturbance", soon ? kStrong + kWeak : kWeak, text);
      return;
    }
  }

  [[nodiscard]] std::optional<double> seconds_between(std::size_t a, std::size_t b) const {
    const auto one = seconds_of(readings_[a].time.value_or(""));
    const auto two = seconds_of(readings_[b].time.value_or(""));
    if (!one || !two) return std::nullopt;
    return std::abs(*two - *one);
  }

  const Visit& visit_;
  const std::vector<Reading>& readings_;
  Clues clues_;
};

}  // namespace

Clues clues_of_moments(const Visit& visit) { return MomentsFinder(visit).all(); }

}  // namespace evenleg
