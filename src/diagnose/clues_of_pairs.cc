// The outlets of one multiwire circuit side by side: one low and another high shows its neutral,
// and where an outlet holds while another of the same circuit does not, the fault lies between.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "src/diagnose/clues.h"
#include "src/diagnose/probes.h"

namespace evenleg {
namespace {

// Of nominal, against the source. Judgement: more than a sound branch drops under its breaker's
// load on the rising side, where a sound neutral gives tenths of a volt.
constexpr double kRisen = 0.03;
constexpr double kFallen = 0.03;
constexpr double kHeld = 0.03;

struct Seen {
  std::string low, high, held;  // titles, "" when there is none
};

class Finder {
 public:
  Finder(const Visit& visit, std::size_t cable)
      : visit_(visit), cable_(visit.wiring.cables[cable]) {}

  Clues all() {
    const Seen seen = look();
    Clues clues;
    if (seen.high.empty() || seen.low.empty()) return clues;
    const std::string text = fmt::format("{} is low while {} is high", seen.low, seen.high);
    const auto& multiwire = visit_.house.multiwires[static_cast<std::size_t>(cable_.multiwire)];
    if (!seen.held.empty()) {
      clues.push_back({"multiwire neutral at a device", kDecisive + kWeak,
                       fmt::format("{}, and {} on the same circuit holds", text, seen.held)});
      clues.push_back({"multiwire neutral", -kStrong, seen.held + " on the same circuit holds"});
    } else {
      clues.push_back({"multiwire neutral", kDecisive, text});
      clues.push_back({"multiwire neutral at a device", kStrong, text});
      if (multiwire.neutral_joint == "through devices") {
        clues.push_back(
            {"multiwire neutral at a device", kWeak,
             fmt::format("the neutral of {} runs through its devices", in_quotes(multiwire.name))});
      }
    }
    if (panel_holds()) {
      clues.push_back({"service neutral", -kDecisive, "both legs hold at the first panel"});
    }
    return clues;
  }

 private:
  // Some load of this circuit was on: an outlet that holds then says something.
  [[nodiscard]] bool is_loaded(const Reading& reading) const {
    if (has_clamped_legs(reading)) return !is_without_load(reading);
    return std::any_of(reading.on.begin(), reading.on.end(), [&](const std::string& name) {
      const auto& loads = visit_.house.loads;
      const auto load = std::find_if(loads.begin(), loads.end(),
                                     [&](const Load& one) { return one.name == name; });
      const auto index = static_cast<std::size_t>(load - loads.begin());
      const auto cable = static_cast<std::size_t>(visit_.wiring.loads[index].cable);
      return &visit_.wiring.cables[cable] == &cable_;
    });
  }

  // An outlet that holds says something only while the circuit is loaded, as far as that was noted.
  [[nodiscard]] Seen look() const {
    const auto& readings = visit_.house.readings;
    const bool noted = std::any_of(readings.begin(), readings.end(), [&](const Reading& reading) {
      return cable_of(visit_, reading) == &cable_ && is_loaded(reading);
    });
    Seen seen;
    for (const Reading& reading : readings) {
      if (cable_of(visit_, reading) != &cable_) continue;
      bool holds = false;
      for (const auto& ratio : leg_ratios(visit_, reading)) {
        if (!ratio) continue;
        const double away = *ratio - visit_.base_ratio;
        if (away > kRisen) seen.high = title_of(reading);
        if (away < -kFallen) seen.low = title_of(reading);
        holds = std::abs(away) <= kHeld;
      }
      const bool off = seen.high == title_of(reading) || seen.low == title_of(reading);
      if (holds && !off && (!noted || is_loaded(reading))) seen.held = title_of(reading);
    }
    return seen;
  }

  [[nodiscard]] bool panel_holds() const {
    bool any = false;
    for (const Reading& reading : visit_.house.readings) {
      if (kind_of_place(visit_, reading) != PlaceRead::FirstPanel || !is_loaded(reading)) continue;
      for (const auto& ratio : leg_ratios(visit_, reading)) {
        if (!ratio) continue;
        if (std::abs(*ratio - visit_.base_ratio) > kHeld) return false;
        any = true;
      }
    }
    return any;
  }

  const Visit& visit_;
  const Cable& cable_;
};

}  // namespace

Clues clues_of_pairs(const Visit& visit) {
  Clues all;
  for (std::size_t c = 0; c < visit.wiring.cables.size(); ++c) {
    if (visit.wiring.cables[c].multiwire < 0) continue;
    for (Clue& clue : Finder(visit, c).all()) all.push_back(std::move(clue));
  }
  return all;
}

}  // namespace evenleg
