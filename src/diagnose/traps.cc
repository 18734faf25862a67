#include "src/diagnose/traps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "src/diagnose/probes.h"

namespace evenleg {
namespace {

// Where the meter's accuracy is not stated. Judgement: twice what three values of a hand meter of
// 0.7 % + 2 digits can disagree by at 240 V.
constexpr double kDisagreeVolts = 4;

// What the stated accuracy allows a sum of values of about `volts` to disagree by.
double allowed(const Reading& reading, double volts) {
  if (!reading.accuracy_percent && !reading.accuracy_volts) return kDisagreeVolts;
  constexpr double kValues = 3;
  const double gain = 2 * reading.accuracy_percent.value_or(0) / kPercent * volts;
  return std::max(1.0, gain + kValues * reading.accuracy_volts.value_or(0));
}

class Finder {
 public:
  explicit Finder(const Visit& visit) : visit_(visit) {}

  std::vector<std::string> all() {
    high_impedance_only();
    for (std::size_t r = 0; r < readings().size(); ++r) {
      sum_of_legs(readings()[r]);
      sum_to_ground(readings()[r], r);
      leg_not_there(r);
    }
    for (const Misfit& misfit : visit_.estimation.left_out) left_out(misfit);
    for (const Misfit& misfit : visit_.estimation.misfits) misfits(misfit);
    return sentences_;
  }

 private:
  [[nodiscard]] const std::vector<Reading>& readings() const { return visit_.house.readings; }
  void add(std::string sentence) { sentences_.push_back(std::move(sentence)); }

  // Unloaded, and with no instrument that loads the circuit: a floating conductor reads as normal.
  void high_impedance_only() {
    const auto volts_read = [](const Reading& reading) {
      return std::any_of(volts_keys().begin(), volts_keys().end(),
                         [&](const VoltsKey& key) { return (reading.*key.member).has_value(); });
    };
    bool any = false;
    for (const Reading& reading : readings()) {
      if (!volts_read(reading)) continue;
      any = true;
      if (!is_without_load(reading) || reading.meter_input == "low impedance") return;
    }
    if (!any) return;
    add("Every reading was taken with nothing known to draw, and none with an input of low "
        "impedance: across an open neutral such a meter can show normal volts. Repeat them with a "
        "known load on, or with a low-impedance input.");
  }

  void sum_of_legs(const Reading& reading) {
    if (!visit_.wiring.system.split_phase) return;
    if (!reading.l1_n_volts || !reading.l2_n_volts || !reading.l1_l2_volts) return;
    const double sum = *reading.l1_n_volts + *reading.l2_n_volts;
    const double off = std::abs(sum - *reading.l1_l2_volts);
    if (off <= allowed(reading, sum)) return;
    const char* then =
        *reading.l1_l2_volts < sum / 2
            ? "A leg that is fed back through a load between the legs reads so."
            : "Something changed between the readings, or one of them is not what it says.";
    add(
        fmt::format("{}: L1-N and L2-N add up to {} V, but L1-L2 reads {} V; with both legs fed, a "
                    "split-phase supply makes them agree. {}",
                    title_of(reading), fixed(sum, 1), fixed(*reading.l1_l2_volts, 1), then));
  }

  // Line to neutral and neutral to ground make line to ground, where all are in phase.
  void sum_to_ground(const Reading& reading, std::size_t r) {
    if (!reading.neutral_ground_volts || visit_.points.of_reading[r] == 0) return;
    constexpr std::size_t kFirstGround = 6;  // of volts_keys()
    for (std::size_t leg = 0; leg < visit_.wiring.system.legs.size(); ++leg) {
      const auto& neutral = reading.*(volts_keys()[leg].member);
      const auto& ground = reading.*(volts_keys()[kFirstGround + leg].member);
      if (!neutral || !ground) continue;
      const double sum = *neutral + *reading.neutral_ground_volts;
      // A neutral lifted by the other leg's load subtracts instead.
      const double other = *neutral - *reading.neutral_ground_volts;
      const double off = std::min(std::abs(sum - *ground), std::abs(other - *ground));
      if (off <= allowed(reading, *ground)) continue;
      add(fmt::format(
          "{}: {}-N {} V and neutral to ground {} V do not make {}-ground {} V; repeat "
          "the three with the same load on.",
          title_of(reading), leg_name(visit_, leg), fixed(*neutral, 1),
          fixed(*reading.neutral_ground_volts, 1), leg_name(visit_, leg), fixed(*ground, 1)));
    }
  }

  void leg_not_there(std::size_t r) {
    for (const VoltsKey& key : volts_keys()) {
      if (!(readings()[r].*key.member)) continue;
      const int point = visit_.points.of_reading[r];
      const bool at_bond = point == 0 && key.from == kNeutral;
      if (at_bond || probe_at(visit_.points, point, key)) continue;
      const Cable* cable = cable_of(visit_, readings()[r]);
      // Hot to hot of a pair on one leg is a reading of its own.
      if (cable != nullptr && cable->multiwire >= 0 && key.key == "l1_l2_volts") continue;
      add(
          fmt::format("{}: {} was not used, because the house describes no such leg there; correct "
                      "the reading or the circuit's leg.",
                      title_of(readings()[r]), key.key));
    }
  }

  void left_out(const Misfit& misfit) {
    const Reading& reading = readings()[static_cast<std::size_t>(misfit.reading)];
    add(
        fmt::format("{}: {} = {} V was not used for the estimates: with nothing known to draw no "
                    "resistance explains it. A load that is not listed, an open conductor, the "
                    "supply itself or a slip would.",
                    title_of(reading), misfit.key, fixed(misfit.volts, 1)));
  }

  void misfits(const Misfit& misfit) {
    const Reading& reading = readings()[static_cast<std::size_t>(misfit.reading)];
    add(fmt::format(
        "{}: {} = {} V stands far from the other readings, which make it {} V; read it "
        "again.",
        title_of(reading), misfit.key, fixed(misfit.volts, 1), fixed(misfit.predicted, 1)));
  }

  const Visit& visit_;
  std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> meter_traps(const Visit& visit) { return Finder(visit).all(); }

}  // namespace evenleg
