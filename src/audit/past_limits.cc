// Loads past what they withstand: as found, and as an open neutral would leave them.
#include <algorithm>

#include "evenleg/base/index.h"
#include "src/audit/findings.h"
#include "src/audit/ranking.h"

namespace evenleg {
namespace {

double withstood(const Seen& seen, std::size_t l) {
  return withstood_volts(seen.house.loads[l], seen.model.loads[l], seen.tables).si();
}

// Volts between the legs of a load, or its leg and the neutral, at the first panel.
double volts_at_first_panel(const Seen& seen, std::size_t l) {
  const LoadModel& load = seen.model.loads[l];
  const std::vector<Hot>& hots = seen.model.cables[at(load.cable)].hots;
  const PanelState& first = seen.as_found.panels.front();
  const std::vector<int>& legs = seen.model.panels.front().legs;
  const auto potential = [&](int end) {
    if (end == kNeutral) return first.neutral;
    const auto leg = std::find(legs.begin(), legs.end(), hots[at(end)].leg);
    return leg == legs.end() ? Complex{} : first.hot[static_cast<std::size_t>(leg - legs.begin())];
  };
  return std::abs(potential(load.from) - potential(load.to));
}

}  // namespace

std::vector<PastAsFound> past_as_found(const Seen& seen) {
  const bool legs_break_limits = !broken_at_service(seen).limits.empty();
  std::vector<PastAsFound> past;
  for (std::size_t l = 0; l < seen.house.loads.size(); ++l) {
    const double volts = std::abs(seen.as_found.load_volts[l]);
    const double withstands = withstood(seen, l);
    if (!seen.on[l] || volts <= withstands) continue;
    const bool fit_for_nominal = withstands >= seen.model.loads[l].nominal_volts;
    past.push_back(
        {static_cast<int>(l), volts, withstands,
         legs_break_limits && fit_for_nominal && volts_at_first_panel(seen, l) > withstands});
  }
  std::stable_sort(past.begin(), past.end(), [](const PastAsFound& a, const PastAsFound& b) {
    return a.volts / a.withstands > b.volts / b.withstands;
  });
  return past;
}

bool is_taken_past(const Seen& seen, const LoadExtremes& row) {
  constexpr double kFurther = 1.01;  // less than 1 % more is no effect of its own; judgement
  if (!row.highest) return false;
  const double withstands = withstood(seen, at(row.load));
  const double opened = row.highest->value.si();
  const double sound = seen.on[at(row.load)] ? std::abs(seen.as_found.load_volts[at(row.load)]) : 0;
  return opened > withstands && (sound <= withstands || opened > kFurther * sound);
}

}  // namespace evenleg
