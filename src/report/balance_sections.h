// The sections of a balance in text, each a string of whole lines.
#pragma once

#include <fmt/format.h>

#include <string>
#include <vector>

#include "evenleg/house/wiring.h"
#include "evenleg/report/balance_text.h"
#include "evenleg/report/source_list.h"

namespace evenleg {

struct BalanceView {
  const BalanceReport& report;
  const Wiring& wiring;  // of the house as it is

  [[nodiscard]] const Circuit& circuit(int index) const {
    return report.house.circuits[static_cast<std::size_t>(index)];
  }
  [[nodiscard]] const Panel& panel(int index) const {
    return report.house.panels[static_cast<std::size_t>(index)];
  }
  [[nodiscard]] const std::string& leg(std::size_t index) const {
    return wiring.system.legs[index].name;
  }
  [[nodiscard]] std::size_t legs() const { return wiring.system.legs.size(); }
  [[nodiscard]] const BalancePlan& plan(int index) const {
    return report.balance.plans[static_cast<std::size_t>(index)];
  }
};

// What amps_text() prints as 0: sums of doubles leave that much of nothing.
inline constexpr double kNothing = 0.0005;  // A

[[nodiscard]] std::string amps_text(double amps);
// "as found", or the scenario's name in quotation marks.
[[nodiscard]] std::string scenario_words(const std::string& scenario);
// "L1 61.2 A and L2 42.8 A".
[[nodiscard]] std::string legs_amps_text(const BalanceView& view, const std::vector<double>& amps);
// Index of the scenario whose legs are furthest apart.
[[nodiscard]] std::size_t furthest_apart(const std::vector<LegLoads>& scenarios);

[[nodiscard]] std::string leg_loads_section(const BalanceView& view, SourceList& sources);
// "" where no panel has a limit.
[[nodiscard]] std::string leg_limits_section(const BalanceView& view);
// `told`: the plans whose moves are listed.
[[nodiscard]] std::string plans_section(const BalanceView& view, const std::vector<int>& told);
// "" where nothing was audited.
[[nodiscard]] std::string plan_effects_section(const BalanceView& view);
// One plan: the legs that it leaves, then its schedule beside the present one.
// Panels whose fullest leg would be past its limit with the plan in place.
[[nodiscard]] std::string limits_after(const BalanceView& view, const BalancePlan& plan);
[[nodiscard]] std::string plan_schedule_section(const BalanceView& view, const PlannedHouse& shown);
[[nodiscard]] std::string fixed_section(const BalanceView& view);
[[nodiscard]] std::string plan_cautions_section();

}  // namespace evenleg
