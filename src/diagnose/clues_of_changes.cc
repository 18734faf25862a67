// A load that came on: which legs fell and which rose, beyond what the described house accounts
// for.
//
// Where an estimate tells the conductors of the place, it has said more than a change can; the
// finder then only looks at how far a supply falls and at what holds.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "src/diagnose/clues.h"
#include "src/diagnose/probes.h"

namespace evenleg {
namespace {

// Falls of all legs together. 10 % under a range is the practice's figure for a supply to suspect
// (a master electrician's answer in a builders' magazine); half of that is judgement, the total
// drop that the NEC's informational notes recommend to stay within.
constexpr double kMuchFall = 0.10;
constexpr double kFall = 0.05;

class Finder {
 public:
  explicit Finder(const Visit& visit) : visit_(visit) {}

  Clues all() {
    const std::vector<Reading>& readings = visit_.house.readings;
    bool all_held = true;
    double widest = 0;
    for (std::size_t r = 0; r < readings.size(); ++r) {
      if (is_without_load(readings[r]) || is_of_a_start(readings, r)) continue;
      const auto before = without_load_beside(readings, r);
      if (!before) continue;
      const Move move = move_between(visit_, *before, r);
      if (!move.any()) continue;
      ++compared_;
      look(readings[r], move);
      widest = std::max({widest, std::abs(move.least(false)), std::abs(move.most(false))});
      all_held = all_held && move.least(true) > -kStirVolts && move.most(true) < kStirVolts;
    }
    if (compared_ > 0 && all_held) {
      clues_.push_back({"lamp", kWeak,
                        fmt::format("the volts moved by no more than {} V when loads came on",
                                    fixed(widest, 1))});
    }
    return clues_;
  }

 private:
  void add(const char* pattern, double weight, const Reading& reading, const Move& move) {
    clues_.push_back(
        {pattern, weight, fmt::format("{}: {}", title_of(reading), text_of(visit_, move))});
  }

  // Whether an estimate tells a conductor on the way to that place.
  [[nodiscard]] bool is_told(const std::string& place, const std::string& conductor) const {
    return std::any_of(visit_.estimation.sections.begin(), visit_.estimation.sections.end(),
                       [&](const SectionEstimate& section) {
                         return section.to == place && section.find(conductor) != nullptr;
                       });
  }

  void look(const Reading& reading, const Move& move) {
    const bool falls = move.least(true) < -kStirVolts;
    const bool rises = move.most(true) > kStirVolts;
    if (kind_of_place(visit_, reading) == PlaceRead::Outlet) {
      at_outlet(reading, move, falls, rises);
    } else {
      at_panel(reading, move, falls, rises);
    }
  }

  void at_panel(const Reading& reading, const Move& move, bool falls, bool rises) {
    const bool first = kind_of_place(visit_, reading) == PlaceRead::FirstPanel;
    if (first) supply_fall(reading, move);
    if (falls && rises && !is_told(reading.at, "N")) {
      add(first ? "service neutral" : "feeder joint", kStrong, reading, move);
    }
    if (!falls || rises || !first || any_hot_told(reading.at)) return;
    const bool all = move.most(true) < -kStirVolts;
    if (all) add("supply drop", kStrong, reading, move);
    if (!all) add("service hot", kStrong, reading, move);
    if (!all) add("supply drop", kWeak, reading, move);
  }

  [[nodiscard]] bool any_hot_told(const std::string& place) const {
    return std::any_of(visit_.wiring.system.legs.begin(), visit_.wiring.system.legs.end(),
                       [&](const Leg& leg) { return is_told(place, leg.name); });
  }

  void supply_fall(const Reading& reading, const Move& move) {
    const double nominal = visit_.wiring.system.nominal_volts;
    const auto read = std::count_if(move.volts.begin(), move.volts.end(),
                                    [](const auto& volts) { return volts.has_value(); });
    const double fall = -move.most(false) / nominal;  // of the leg that fell least
    if (read < 2 || fall < kFall) return;
    add("supply drop", fall < kMuchFall ? kStrong + kWeak : kDecisive, reading, move);
  }

  void at_outlet(const Reading& reading, const Move& move, bool falls, bool rises) {
    const bool pair = on_multiwire(visit_, reading);
    if (rises) {
      add(pair ? "multiwire neutral" : "service neutral", pair ? kStrong : kWeak, reading, move);
    } else if (falls && !is_told(reading.at, "N") && !any_hot_told(reading.at)) {
      add("branch joint", kStrong, reading, move);
      if (pair) add("multiwire neutral", kWeak, reading, move);
    }
  }

  const Visit& visit_;
  Clues clues_;
  int compared_ = 0;
};

}  // namespace

Clues clues_of_changes(const Visit& visit) { return Finder(visit).all(); }

}  // namespace evenleg
