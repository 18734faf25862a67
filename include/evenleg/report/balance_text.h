// How evenly the legs of a house are loaded, for people, in plain text: leg amperes by scenario
// with their imbalance and its formulas, legs past their limit and what to shed, the plans, what a
// plan does to the service neutral and to what an open neutral would do, one plan's schedule before
// and after, what stays where it is.
//
// At most 100 columns. Amperes, volts, percent, three significant digits (base/format.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/balance/balance.h"
#include "evenleg/balance/leg_limits.h"

namespace evenleg {

// What an audit says of a house, as far as moved circuits can change it.
struct NeutralFigures {
  std::optional<Amps> as_found;          // the service neutral
  std::optional<Extreme<Amps>> highest;  // over all credible states, all neutrals sound
  int loads = 0;                         // that an open neutral could reach
  int past = 0;                          // of them, past what they withstand
  std::optional<RankRow> worst;          // the first of the ranking
  std::string worst_place;
  bool proven = true;  // no credible state takes any of these loads higher
};
[[nodiscard]] NeutralFigures neutral_figures(const Audit& audit);

// A house, what balance() says of it, and what was worked out besides.
struct BalanceReport {
  const House& house;
  const Tables& tables;
  const Balance& balance;
  std::vector<LegLimit> limits{};                          // of the house as it is
  std::optional<NeutralFigures> as_it_is{};                // absent: no audit was asked for
  std::vector<std::optional<NeutralFigures>> with_plan{};  // by plan; absent: not audited
  LimitOptions limit_options{};
  bool keep_spares = false;
};

// The house with a plan's circuits moved, and the plan's index in Balance::plans.
struct PlannedHouse {
  int plan = 0;
  House house;
};

// How many plans are told move by move where none is asked for.
inline constexpr int kPlansTold = 3;

// `shown`: that plan alone is told, and its schedule stands beside the present one.
[[nodiscard]] std::string balance_text(const BalanceReport& report,
                                       const std::optional<PlannedHouse>& shown = std::nullopt);

}  // namespace evenleg
