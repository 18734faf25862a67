#include "evenleg/report/balance_text.h"

#include <algorithm>
#include <cmath>

#include "evenleg/report/audit_words.h"
#include "evenleg/report/cautions.h"
#include "src/report/audit_sections.h"
#include "src/report/balance_sections.h"

namespace evenleg {
namespace {

std::string title(const BalanceView& view) {
  constexpr int kMostName = 50;  // columns; beside it stand the system and what follows
  const std::string name = shortened(name_of(view.report.house), kMostName);
  return paragraph((name.empty() ? std::string("A house without a name") : name) + ", " +
                       view.report.house.supply.system + ": how evenly its legs are loaded",
                   0);
}

std::string as_it_is(const BalanceView& view) {
  const auto& scenarios = view.report.balance.scenarios;
  const LegLoads& worst = scenarios[furthest_apart(scenarios)];
  if (spread(worst.service) < kNothing) {
    return scenarios.size() == 1 ? "The legs are even as found."
                                 : "The legs are even in every scenario.";
  }
  return fmt::format(
      "The legs are furthest apart {}: {}, {} A between the largest and the "
      "smallest.",
      (worst.scenario == "as found" ? "" : "in ") + scenario_words(worst.scenario),
      legs_amps_text(view, worst.service), amps_text(spread(worst.service)));
}

std::string best_of(const BalanceView& view) {
  const Balance& balance = view.report.balance;
  if (balance.plans.empty()) {
    if (balance.spread_amps < kNothing) return "";
    return balance.complete
               ? "No move of circuits brings them closer."
               : fmt::format(
                     "No plan of up to {} brings them closer; plans of more "
                     "moves were not looked for.",
                     counted(static_cast<std::size_t>(balance.searched_moves), "move"));
  }
  const auto sentence = [](const BalancePlan& plan, std::string_view does) {
    return fmt::format("{} {} that to {} A{}.",
                       counted(static_cast<std::size_t>(plan.moves), "moved circuit"), does,
                       amps_text(plan.spread_amps),
                       plan.proven ? ", proven to be the least for so many" : ", not proven");
  };
  const BalancePlan& first = balance.plans.front();
  const BalancePlan& last = balance.plans.back();
  std::string text = sentence(first, first.moves == 1 ? "brings" : "bring");
  if (balance.plans.size() > 1) text += " " + sentence(last, "bring");
  if (!balance.complete) {
    text += fmt::format(" Plans of more than {} were not looked for.",
                        counted(static_cast<std::size_t>(balance.searched_moves), "move"));
  }
  return text;
}

// Two legs of a wye: their currents cancel in part only.
bool is_two_of_three(const BalanceView& view) {
  constexpr double kOpposite = 180;
  const auto& legs = view.wiring.system.legs;
  return legs.size() == 2 &&
         std::abs(std::abs(legs[0].angle_degrees - legs[1].angle_degrees) - kOpposite) > 1;
}

std::string answer(const BalanceView& view) {
  std::string text = "\n" + paragraph(as_it_is(view));
  if (const std::string best = best_of(view); !best.empty()) text += paragraph(best);
  text += paragraph(
      "Even legs lower the current that the service neutral carries in ordinary use. They do not "
      "cure a bad neutral: the worst that an open neutral can do to a load comes from few loads "
      "that run at one time, and a neutral that carries little current shows little of its fault.");
  if (is_two_of_three(view)) {
    text += paragraph(
        "These are two legs of a wye: even legs do not take the neutral's current to "
        "nothing, for it still carries about as much as the loads to neutral of one "
        "leg.");
  }
  return text;
}

std::vector<int> plans_told(const BalanceView& view, const std::optional<PlannedHouse>& shown) {
  if (shown) return {shown->plan};
  std::vector<int> told;
  const int all = static_cast<int>(view.report.balance.plans.size());
  for (int plan = 0; plan < std::min(all, kPlansTold); ++plan) told.push_back(plan);
  return told;
}

std::string sources_section(const SourceList& sources) {
  return sources.entries().empty() ? "" : heading("Sources") + source_entries(sources);
}

}  // namespace

NeutralFigures neutral_figures(const Audit& audit) {
  NeutralFigures figures;
  for (const NeutralRow& row : audit.neutrals) {
    if (row.kind != PlaceKind::Service) continue;
    figures.as_found = row.amps;
    figures.highest = row.highest;
  }
  figures.loads = static_cast<int>(audit.ranking.size());
  figures.proven = audit.certified;
  for (const RankRow& row : audit.ranking) {
    if (row.over > 1) ++figures.past;
  }
  for (const OpenNeutral& open : audit.open_neutral) {
    for (const LoadExtremes& load : open.loads) {
      if (load.highest && !load.highest->proven) figures.proven = false;
    }
  }
  if (!audit.ranking.empty()) {
    figures.worst = audit.ranking.front();
    figures.worst_place =
        audit.open_neutral[static_cast<std::size_t>(figures.worst->place)].place.name;
  }
  return figures;
}

std::string balance_text(const BalanceReport& report, const std::optional<PlannedHouse>& shown) {
  const Wiring wiring =
      wire(report.house, *find_system(vocabulary(report.tables), report.house.supply.system));
  const BalanceView view{report, wiring};
  SourceList sources;
  std::string text = title(view) + answer(view);
  text += leg_loads_section(view, sources);
  text += leg_limits_section(view);
  text += plans_section(view, plans_told(view, shown));
  text += plan_effects_section(view);
  if (shown) text += plan_schedule_section(view, *shown);
  text += fixed_section(view);
  text += plan_cautions_section();
  text += sources_section(sources);
  return text + "\n" + paragraph(standing_caution(), 0);
}

}  // namespace evenleg
