// What speaks for and against each pattern of data/patterns.toml: found one by one, then added up.
//
// A finder looks at the readings, the estimates or the answers and gives clues. Weights: kDecisive
// for what hardly anything else shows, kStrong for what the grid names first, kWeak for what many
// share. Measured clues weigh more than answers, which are 1 or 2 in the table (judgement).
#pragma once

#include <string>
#include <vector>

#include "evenleg/diagnose/estimate.h"
#include "evenleg/diagnose/log.h"
#include "evenleg/tables/tables.h"
#include "src/diagnose/reading_model.h"

namespace evenleg {

inline constexpr double kDecisive = 4;
inline constexpr double kStrong = 2;
inline constexpr double kWeak = 1;

struct Clue {
  std::string pattern;
  double weight = 0;  // for it above 0, against it below
  std::string text;   // a clause without a full stop
};

// All that a finder may look at.
struct Visit {
  const House& house;
  const Wiring& wiring;
  const Model& model;
  const Tables& tables;
  const ReadPoints& points;
  const ReadingModel& readings;
  const Estimation& estimation;
  const LogResult* log = nullptr;
  double base_ratio = 1;  // source volts over nominal, by the estimate or as described
};

using Clues = std::vector<Clue>;

Clues clues_of_resistances(const Visit& visit);
Clues clues_of_levels(const Visit& visit);    // one leg high and one low, dead outlets, all off
Clues clues_of_pairs(const Visit& visit);     // outlets of one multiwire, side by side
Clues clues_of_changes(const Visit& visit);   // a load that came on
Clues clues_of_moments(const Visit& visit);   // a start, a supply that moved by itself
Clues clues_of_currents(const Visit& visit);  // sums in a neutral, hot and neutral in one clamp
Clues clues_of_answers(const Visit& visit);   // [visit]
Clues clues_of_log(const Visit& visit);       // nothing without one

// ---- What several finders ask ----

// A reading's volts from leg to neutral over the nominal ones, by supply leg; absent not read.
[[nodiscard]] std::vector<std::optional<double>> leg_ratios(const Visit& visit,
                                                            const Reading& reading);
// The reading as a sentence names it: `Main, "kettle on"`.
[[nodiscard]] std::string title_of(const Reading& reading);
// "L1"
[[nodiscard]] const std::string& leg_name(const Visit& visit, std::size_t leg);

// How the volts to neutral moved from one reading to another at the same place, by supply leg; what
// the described house accounts for is taken off.
struct Move {
  std::vector<std::optional<double>> volts;        // as read
  std::vector<std::optional<double>> unexplained;  // of them

  [[nodiscard]] bool any() const;
  [[nodiscard]] double least(bool of_unexplained) const;
  [[nodiscard]] double most(bool of_unexplained) const;
};
[[nodiscard]] Move move_between(const Visit& visit, std::size_t from, std::size_t to);
// "L1 -3.2 V, L2 +1.1 V"
[[nodiscard]] std::string text_of(const Visit& visit, const Move& move);
// The reading without load to compare with: at the same place, the last before it, else the first
// after it.
[[nodiscard]] std::optional<std::size_t> without_load_beside(const std::vector<Reading>& readings,
                                                             std::size_t reading);
// Unexplained volts below this say nothing. Judgement: two of a hand meter's display errors, and
// 0.8 % of 120 V.
inline constexpr double kStirVolts = 1;

enum class PlaceRead { FirstPanel, SubPanel, Outlet };
[[nodiscard]] PlaceRead kind_of_place(const Visit& visit, const Reading& reading);
// The cable of an outlet that was read; nullptr at a panel.
[[nodiscard]] const Cable* cable_of(const Visit& visit, const Reading& reading);
[[nodiscard]] bool on_multiwire(const Visit& visit, const Reading& reading);

}  // namespace evenleg
