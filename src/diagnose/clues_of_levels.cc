// Single readings that no sound circuit gives: one leg high and the other low, a leg near nothing,
// a dead outlet whose hot is live, all legs off together.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/format.h"
#include "src/diagnose/clues.h"
#include "src/diagnose/probes.h"

namespace evenleg {
namespace {

// Ratios to nominal. Judgement, but for the first: range A of ANSI C84.1 is 5 % either way (from
// memory).
constexpr double kLevel = 0.05;
constexpr double kLegsApart = 0.06;     // of the two legs, half of it each way from the source
constexpr double kLegsTogether = 0.02;  // all legs within it: the level, not the neutral
constexpr double kDead = 0.5;       // below: lost
constexpr double kWeakLeg = 0.6;
constexpr double kLow = 0.08;   // below the source: more than test loads make of a sound hot
constexpr double kLive = 0.85;  // above: the full volts of the leg
constexpr double kHold = 0.03;  // within it of the source: the outlet holds
constexpr double kBeyondSupply = 0.08;  // above the source: no sound neutral allows it

struct Legs {
  double least = 0;
  double most = 0;
  std::size_t least_leg = 0;
  std::size_t most_leg = 0;
  int read = 0;
};

Legs legs_of(const Visit& visit, const Reading& reading) {
  Legs legs;
  const auto ratios = leg_ratios(visit, reading);
  for (std::size_t leg = 0; leg < ratios.size(); ++leg) {
    if (!ratios[leg]) continue;
    const double ratio = *ratios[leg];
    if (legs.read == 0 || ratio < legs.least) {
      legs.least = ratio;
      legs.least_leg = leg;
    }
    if (legs.read == 0 || ratio > legs.most) {
      legs.most = ratio;
      legs.most_leg = leg;
    }
    ++legs.read;
  }
  return legs;
}

std::string volts_text(const Visit& visit, std::size_t leg, double ratio) {
  return fmt::format("{}-N {} V", leg_name(visit, leg),
                     fixed(ratio * visit.wiring.system.nominal_volts, 1));
}

std::string both_text(const Visit& visit, const Reading& reading, const Legs& legs) {
  return fmt::format("{}: {} while {}", title_of(reading),
                     volts_text(visit, legs.least_leg, legs.least),
                     volts_text(visit, legs.most_leg, legs.most));
}

class LevelsFinder {
 public:
  explicit LevelsFinder(const Visit& visit) : visit_(visit) {}

  Clues all() {
    for (const Reading& reading : visit_.house.readings) {
      const PlaceRead place = kind_of_place(visit_, reading);
      const Legs legs = legs_of(visit_, reading);
      if (legs.read > 0 && place != PlaceRead::Outlet) at_panel(reading, legs, place);
      if (place == PlaceRead::Outlet) at_outlet(reading, legs);
    }
    levels();
    return clues_;
  }

 private:
  void add(const char* pattern, double weight, std::string text) {
    clues_.push_back({pattern, weight, std::move(text)});
  }

  [[nodiscard]] bool see_saws(const Legs& legs) const {
    const double base = visit_.base_ratio;
    return legs.read > 1 && legs.most > base + kLegsApart / 2 && legs.least < base - kLegsApart / 2;
  }

  // On a wye the legs alone do not tell: with equal loads an open neutral makes both low. But the
  // volts between legs then stay, and no supply that falls leaves them.
  bool displaced(const Reading& reading, const Legs& legs, bool first) {
    if (visit_.wiring.system.split_phase || legs.read == 0) return false;
    double across = std::numeric_limits<double>::infinity();
    for (const VoltsKey& key : volts_keys()) {
      const auto count = static_cast<int>(visit_.wiring.system.legs.size());
      if (key.from < 0 || key.to < 0 || key.to >= count || key.from >= count) continue;
      if (!(reading.*key.member)) continue;
      across = std::min(
          across, *(reading.*key.member) / nominal_volts(visit_.wiring.system, key.from, key.to));
    }
    if (!std::isfinite(across) || across < visit_.base_ratio - kHold) return false;
    if (std::max(legs.most - across, across - legs.least) < kLegsApart) return false;
    const std::string text =
        both_text(visit_, reading, legs) + ", the volts between legs staying what they are";
    add(first ? "service neutral" : "feeder joint", kDecisive, text);
    add("supply drop", -kDecisive, "the volts between legs stay");
    add("supply level", -kDecisive, "the volts between legs stay");
    return true;
  }

  void at_panel(const Reading& reading, const Legs& legs, PlaceRead place) {
    const bool first = place == PlaceRead::FirstPanel;
    if (displaced(reading, legs, first)) return;
    if (see_saws(legs)) {
      add(first ? "service neutral" : "feeder joint", first ? kDecisive : kStrong,
          both_text(visit_, reading, legs));
      if (!first) add("service neutral", kStrong, both_text(visit_, reading, legs));
      return;
    }
    const bool other_not_high = legs.read > 1 && legs.most < visit_.base_ratio + kLevel &&
                                legs.most > visit_.base_ratio - 2 * kLevel;
    if (legs.least < kWeakLeg && other_not_high) {
      add(first ? "service hot" : "feeder joint", kDecisive + 1,
          both_text(visit_, reading, legs) + ", and not high");
      add("service neutral", -kDecisive, "the other leg is not high");
      return;
    }
    if (back_fed(reading, legs)) return;
    if (first && legs.read > 1 && legs.least < visit_.base_ratio - kLow &&
        std::abs(legs.most - visit_.base_ratio) < kLegsTogether) {
      add("service hot", kStrong, both_text(visit_, reading, legs) + ", which stays");
    }
    beyond_supply(reading, legs);
  }

  // Both legs read to neutral, but little from leg to leg: one is fed back through a load between
  // them.
  bool back_fed(const Reading& reading, const Legs& legs) {
    if (!visit_.wiring.system.split_phase || legs.read < 2 || !reading.l1_l2_volts) return false;
    const double across = *reading.l1_l2_volts / nominal_volts(visit_.wiring.system, 0, 1);
    if (across > kWeakLeg || legs.least < across + kLevel) return false;
    add("service hot", kDecisive,
        fmt::format("{}, but {} V from leg to leg", both_text(visit_, reading, legs),
                    fixed(*reading.l1_l2_volts, 1)));
    return true;
  }

  // More than the source can give through a sound neutral.
  void beyond_supply(const Reading& reading, const Legs& legs) {
    const double supply = described_ratio();
    if (legs.read != 1 || legs.most < supply + kBeyondSupply) return;
    const std::string text = fmt::format("{}: {}, above the supply's {} V", title_of(reading),
                                         volts_text(visit_, legs.most_leg, legs.most),
                                         fixed(supply * visit_.wiring.system.nominal_volts, 1));
    const bool pair = on_multiwire(visit_, reading);
    if (pair) add("multiwire neutral", kDecisive, text);
    if (pair) add("multiwire neutral at a device", kDecisive - kWeak, text);
    add("service neutral", pair ? kStrong : kDecisive - kWeak, text);
    add("supply level", kStrong, text);
  }

  [[nodiscard]] double described_ratio() const {
    return std::abs(visit_.model.source.front()) / visit_.wiring.system.nominal_volts;
  }

  void at_outlet(const Reading& reading, const Legs& legs) {
    if (see_saws(legs)) {
      const char* pattern = on_multiwire(visit_, reading) ? "multiwire neutral" : "service neutral";
      add(pattern, kStrong, both_text(visit_, reading, legs));
    } else if (legs.read == 1) {
      beyond_supply(reading, legs);
    }
    dead(reading, legs);
  }

  // Hot to neutral nearly nothing, with the hot live to ground or the neutral live itself.
  void dead(const Reading& reading, const Legs& legs) {
    if (legs.read == 0 || legs.least > kDead) return;
    const double nominal = visit_.wiring.system.nominal_volts;
    const double neutral = reading.neutral_ground_volts.value_or(0) / nominal;
    const double hot =
        std::max({reading.l1_ground_volts.value_or(0), reading.l2_ground_volts.value_or(0),
                  reading.l3_ground_volts.value_or(0)}) /
        nominal;
    const std::string text =
        fmt::format("{}: {}, hot to ground {} V, neutral to ground {} V", title_of(reading),
                    volts_text(visit_, legs.least_leg, legs.least), fixed(hot * nominal, 1),
                    reading.neutral_ground_volts ? fixed(neutral * nominal, 1) : "not read");
    const bool open_neutral = neutral > kLive || (hot > kLive && is_without_load(reading));
    const bool pair = on_multiwire(visit_, reading);
    if (open_neutral) {
      add(pair ? "multiwire neutral at a device" : "two-wire neutral", kDecisive + 1, text);
      if (!pair) add("branch joint", kStrong, text);
    } else if (!reading.neutral_ground_volts && hot == 0) {
      add("two-wire neutral", kStrong, text);
      add("branch joint", kStrong, text);
    }
  }

  // All legs high together, or low while nothing is known to draw.
  void levels() {
    for (const Reading& reading : visit_.house.readings) {
      const Legs legs = legs_of(visit_, reading);
      if (legs.read < 2 || legs.most - legs.least > kLegsTogether) continue;
      const bool high = legs.least > 1 + kLevel;  // which no load makes
      const bool low = legs.most < 1 - kLevel && is_without_load(reading);
      if (high) add("supply level", kStrong, both_text(visit_, reading, legs));
      if (low) {
        add("supply level", kStrong,
            both_text(visit_, reading, legs) + ", with nothing known to draw");
      }
    }
  }

  const Visit& visit_;
  Clues clues_;
};

}  // namespace

Clues clues_of_levels(const Visit& visit) { return LevelsFinder(visit).all(); }

}  // namespace evenleg
