// Currents that a sound circuit does not have: the sum of both hots in a shared neutral, hot and
// neutral that do not cancel in one clamp, a neutral that carries what its hot does not; and volts
// across a joint.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "evenleg/base/format.h"
#include "src/diagnose/clues.h"
#include "src/diagnose/probes.h"

namespace evenleg {
namespace {

constexpr double kSomeAmps = 0.3;    // what a hand clamp shows with certainty; judgement
constexpr double kSomeShare = 0.05;  // of the hot's current: the clamp's own error of both
constexpr double kNear = 0.15;       // of a current, to count as equal
constexpr double kJointVolts = 1;    // judgement: a sound joint under load shows millivolts

class CurrentsFinder {
 public:
  explicit CurrentsFinder(const Visit& visit) : visit_(visit) {}

  Clues all() {
    for (const Reading& reading : visit_.house.readings) {
      shared_neutral(reading);
      together(reading);
      neutral_beside_hot(reading);
      joint(reading);
    }
    described_pairs();
    return clues_;
  }

 private:
  void add(const char* pattern, double weight, std::string text) {
    clues_.push_back({pattern, weight, std::move(text)});
  }

  // Amperes of each circuit of the reading's cable: clamped by leg, else of the loads that were on.
  [[nodiscard]] std::vector<double> hot_amps(const Reading& reading) const {
    std::vector<double> amps;
    for (const AmpsKey& key : leg_amps_keys()) {
      if (reading.*key.member) amps.push_back(*(reading.*key.member));
    }
    if (!amps.empty()) return amps;
    const Cable* cable = cable_of(visit_, reading);
    std::map<int, double> by_circuit;
    for (std::size_t l = 0; l < visit_.house.loads.size(); ++l) {
      const WiredLoad& load = visit_.wiring.loads[l];
      if (cable != &visit_.wiring.cables[static_cast<std::size_t>(load.cable)]) continue;
      const auto& on = reading.on;
      if (std::count(on.begin(), on.end(), visit_.house.loads[l].name) == 0) continue;
      const LoadModel& model = visit_.model.loads[l];
      by_circuit[load.circuits.front()] += std::abs(model.admittance) * model.nominal_volts;
    }
    for (const auto& [circuit, sum] : by_circuit) amps.push_back(sum);
    return amps;
  }

  void shared_neutral(const Reading& reading) {
    const bool hot_to_hot = on_multiwire(visit_, reading) && reading.l1_l2_volts &&
                            *reading.l1_l2_volts < 0.05 * visit_.wiring.system.nominal_volts;
    if (hot_to_hot) {
      add("same leg", kDecisive,
          fmt::format("{}: {} V from hot to hot", title_of(reading),
                      fixed(*reading.l1_l2_volts, 1)));
    }
    if (!on_multiwire(visit_, reading) || !reading.neutral_amps) return;
    const std::vector<double> amps = hot_amps(reading);
    if (amps.size() < 2 || amps[0] < kSomeAmps || amps[1] < kSomeAmps) return;
    const double sum = amps[0] + amps[1];
    const double difference = std::abs(amps[0] - amps[1]);
    const std::string text = fmt::format(
        "{}: {} A in the neutral, the hots' sum being {} A and their difference {} A",
        title_of(reading), fixed(*reading.neutral_amps, 1), fixed(sum, 1), fixed(difference, 1));
    const bool as_sum = std::abs(*reading.neutral_amps - sum) < kNear * sum;
    const bool as_difference = std::abs(*reading.neutral_amps - difference) < kNear * sum;
    if (as_sum && !as_difference) add("same leg", kDecisive, text);
    if (as_difference && !as_sum) add("same leg", -kDecisive, text);
  }

  void together(const Reading& reading) {
    if (!reading.together_amps) return;
    double hot = 0;
    for (const double amps : hot_amps(reading)) hot = std::max(hot, amps);
    const double limit = std::max(kSomeAmps, kSomeShare * hot);
    const std::string text = fmt::format("{}: {} A in a clamp around hot and neutral together",
                                         title_of(reading), fixed(*reading.together_amps, 1));
    add("crossed neutrals", *reading.together_amps > limit ? kDecisive : -kDecisive, text);
  }

  void neutral_beside_hot(const Reading& reading) {
    const Cable* cable = cable_of(visit_, reading);
    if (cable == nullptr || cable->hots.size() != 1) return;
    double hot = -1;
    for (const AmpsKey& key : leg_amps_keys()) {
      if (reading.*key.member) hot = std::max(hot, *(reading.*key.member));
    }
    if (hot < 0 || !reading.neutral_amps) return;
    const double off = std::abs(hot - *reading.neutral_amps);
    if (off < std::max(kSomeAmps, kNear * hot)) return;
    add("crossed neutrals", hot > kSomeAmps ? kStrong + kWeak : kDecisive,
        fmt::format("{}: {} A in the neutral with {} A in its hot", title_of(reading),
                    fixed(*reading.neutral_amps, 1), fixed(hot, 1)));
  }

  void joint(const Reading& reading) {
    if (reading.joint_volts.value_or(0) < kJointVolts) return;
    const PlaceRead place = kind_of_place(visit_, reading);
    const std::string text =
        fmt::format("{}: {} V across a joint", title_of(reading), fixed(*reading.joint_volts, 1));
    if (place == PlaceRead::FirstPanel) {
      add("service neutral", kStrong, text);
      add("service hot", kWeak, text);
    } else {
      add(place == PlaceRead::SubPanel ? "feeder joint" : "branch joint", kStrong + kWeak, text);
    }
  }

  // A pair that is described on one leg does not name the pattern by itself.
  void described_pairs() {
    for (const Cable& cable : visit_.wiring.cables) {
      if (cable.multiwire < 0 || cable.hots.size() < 2) continue;
      if (cable.hots[0].leg != cable.hots[1].leg) continue;
      const auto& multiwire = visit_.house.multiwires[static_cast<std::size_t>(cable.multiwire)];
      add("same leg", kWeak,
          fmt::format("{} is described with its hots on {}", multiwire.name,
                      leg_name(visit_, static_cast<std::size_t>(cable.hots[0].leg))));
    }
  }

  const Visit& visit_;
  Clues clues_;
};

}  // namespace

Clues clues_of_currents(const Visit& visit) { return CurrentsFinder(visit).all(); }

}  // namespace evenleg
