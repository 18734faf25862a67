#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/quoted.h"
#include "evenleg/drawing/legs.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

std::vector<Cell> leg_cells(const std::vector<double>& amps) {
  std::vector<Cell> cells;
  for (const double one : amps) cells.push_back(number(one));
  cells.push_back(number(spread(amps)));
  return cells;
}

Sheet leg_loads_sheet(const Job& job) {
  Sheet sheet{"Leg loads", "Amperes of each leg by scenario", {{"scenario", "", false}}, {}, {}, 0};
  const auto add_columns = [&](const std::string& when) {
    for (const Leg& leg : job.system.legs) sheet.columns.push_back({leg.name + when, "A", true});
    sheet.columns.push_back({"apart" + when, "A", true});
  };
  add_columns(job.plan ? " before" : "");
  if (job.plan) add_columns(" after");
  for (std::size_t s = 0; s < job.balance.scenarios.size(); ++s) {
    std::vector<Cell> row{job.balance.scenarios[s].scenario};
    for (Cell& cell : leg_cells(job.balance.scenarios[s].service)) row.push_back(std::move(cell));
    if (job.plan) {
      for (Cell& cell : leg_cells(job.plan->plan.scenarios[s].service))
        row.push_back(std::move(cell));
    }
    sheet.rows.push_back(std::move(row));
  }
  sheet.notes.push_back(
      "Nominal volt-amperes over nominal volts of what runs in the scenario, the trade's "
      "arithmetic; the legs of the circuit solution differ, since volts drop and phases part. "
      "apart: the largest leg less the smallest.");
  return sheet;
}

std::vector<std::string> over_limits(const Job& job) {
  std::vector<std::string> sentences;
  for (const LegLimit& row : job.leg_limits) {
    if (without_remains(row.over_amps) <= 0) continue;
    sentences.push_back(fmt::format("{}: {} of panel {} is {} A over the {} A that it may have.",
                                    capitalised(row.scenario), job.system.legs[at(row.leg)].name,
                                    in_quotes(job.house.panels[at(row.panel)].name),
                                    figure(row.over_amps), exact(row.limit_amps)));
  }
  return sentences;
}

Sheet moves_sheet(const Job& job) {
  Sheet sheet{"Moves",
              fmt::format("Plan {}: the circuits that change their space", job.plan->number),
              {{"circuit", "", false},
               {"panel", "", false},
               {"from space", "", true},
               {"to space", "", true},
               {"from leg", "", false},
               {"to leg", "", false},
               {"counts as a move", "", false}},
              {},
              {},
              0};
  for (const CircuitMove& move : job.plan->plan.moved) {
    sheet.rows.push_back({job.house.circuits[at(move.circuit)].name,
                          job.house.panels[at(move.panel)].name, count(at(move.from_space)),
                          count(at(move.to_space)), listed(move.from_legs), listed(move.to_legs),
                          move.counts() ? "yes" : "no, same legs"});
  }
  return sheet;
}

Sheet plans_sheet(const Job& job) {
  Sheet sheet{"Plans",
              "How even the legs get with each number of moves",
              {{"plan", "", true},
               {"to another leg", "", true},
               {"circuits handled", "", true},
               {"apart at most", "A", true},
               {"in", "", false},
               {"proven best", "", false}},
              {},
              {},
              0};
  const auto worst_of = [](const std::vector<LegLoads>& scenarios) {
    return std::max_element(
        scenarios.begin(), scenarios.end(),
        [](const LegLoads& a, const LegLoads& b) { return spread(a.service) < spread(b.service); });
  };
  const auto now = worst_of(job.balance.scenarios);
  sheet.rows.push_back({count(0), count(0), count(0), number(job.balance.spread_amps),
                        now == job.balance.scenarios.end() ? "" : now->scenario, "as it is"});
  for (std::size_t p = 0; p < job.balance.plans.size(); ++p) {
    const BalancePlan& plan = job.balance.plans[p];
    const auto worst = worst_of(plan.scenarios);
    sheet.rows.push_back(
        {count(p + 1), count(at(plan.moves)), count(plan.moved.size()), number(plan.spread_amps),
         worst == plan.scenarios.end() ? "" : worst->scenario, plan.proven ? "yes" : "no"});
  }
  sheet.notes.push_back(fmt::format(
      "apart at most: the largest leg less the smallest, in the scenario named. Plan {} is shown; "
      "--plan N shows another.",
      job.plan->number));
  return sheet;
}

// What comes before any move, and what a plan does not do.
std::vector<std::string> order_of_work(const Job& job) {
  std::vector<std::string> sentences;
  if (!neutral_pattern(job).empty() || !neutral_evidence(job).empty()) {
    sentences.emplace_back(
        "Readings speak for a failing neutral: it is tested and put right before any circuit is "
        "moved.");
  }
  if (!job.system.split_phase && job.system.legs.size() == 2) {
    sentences.emplace_back(
        "Two legs of a wye do not cancel in the neutral: even legs leave about a leg's current in "
        "it.");
  }
  return sentences;
}

}  // namespace

std::string plan_words(const Job& job) {
  if (!job.plan) {
    return fmt::format("No move of circuits was found that betters the legs, {} A apart.",
                       figure(job.balance.spread_amps));
  }
  const BalancePlan& plan = job.plan->plan;
  return fmt::format(
      "Plan {}: {} to another leg bring{} the legs from {} A apart to {} A, over all scenarios{}.",
      job.plan->number, counted(static_cast<std::size_t>(plan.moves), "circuit"),
      plan.moves == 1 ? "s" : "", figure(job.balance.spread_amps), figure(plan.spread_amps),
      plan.proven ? "; no choice of so many does better" : ", not proven to be the best");
}

Section leg_loads_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"leg-loads", "Leg loads by scenario", {}, false};
  section.blocks.emplace_back(leg_loads_sheet(job));
  section.blocks.emplace_back(draw_legs_by_scenario(
      job.system, job.balance.scenarios,
      job.plan ? job.plan->plan.scenarios : std::vector<LegLoads>{}, limit_of(job.house, 0)));
  if (std::vector<std::string> over = over_limits(job); !over.empty()) {
    section.blocks.emplace_back(Bullets{std::move(over), false});
  }
  return section;
}

Section moves_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"moves", "The moves", {}, false};
  section.blocks.emplace_back(Paragraph{plan_words(job)});
  for (const std::string& sentence : order_of_work(job)) {
    section.blocks.emplace_back(Paragraph{sentence});
  }
  if (!job.plan) return section;
  section.blocks.emplace_back(plans_sheet(job));
  section.blocks.emplace_back(moves_sheet(job));
  section.blocks.emplace_back(Paragraph{
      "A plan is arithmetic over what is described. Whether breakers fit, conductors reach, the "
      "panel's label allows it, and handle ties and shared neutrals still go together is for a "
      "licensed electrician to see on site. Moving circuits in a panel is licensed work, and the "
      "directory changes with it."});
  return section;
}

}  // namespace evenleg
