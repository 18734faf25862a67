// The plans: how far each goes, what moves where, what that does to the service neutral and to what
// an open neutral would do, what no plan moves and why.
#include <algorithm>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"
#include "src/report/balance_sections.h"

namespace evenleg {
namespace {

std::string plan_number(int plan) { return fmt::format("{}", plan + 1); }

std::size_t slides_of(const BalancePlan& plan) {
  return static_cast<std::size_t>(
      std::count_if(plan.moved.begin(), plan.moved.end(),
                    [](const CircuitMove& move) { return !move.counts(); }));
}

std::string plans_table(const BalanceView& view) {
  TextTable table({{"plan", Align::Right},
                   {"moved", Align::Right},
                   {"apart A", Align::Right},
                   {"least possible"},
                   {"furthest apart"},
                   {"also slid", Align::Right}});
  for (int p = 0; p < static_cast<int>(view.report.balance.plans.size()); ++p) {
    const BalancePlan& plan = view.plan(p);
    table.add(
        {plan_number(p), fmt::format("{}", plan.moves), amps_text(plan.spread_amps),
         plan.proven ? "proven" : "not proven",
         plan.scenarios.empty() ? "" : plan.scenarios[furthest_apart(plan.scenarios)].scenario,
         fmt::format("{}", slides_of(plan))});
  }
  return table.text();
}

std::string multiwire_of(const BalanceView& view, int circuit) {
  const int cable = view.wiring.circuit_cable[static_cast<std::size_t>(circuit)];
  const int multiwire = view.wiring.cables[static_cast<std::size_t>(cable)].multiwire;
  return multiwire < 0 ? ""
                       : view.report.house.multiwires[static_cast<std::size_t>(multiwire)].name;
}

std::string note_of(const BalanceView& view, const CircuitMove& move) {
  std::vector<std::string> notes;
  if (!move.counts()) notes.emplace_back("same leg");
  if (const std::string multiwire = multiwire_of(view, move.circuit); !multiwire.empty()) {
    notes.push_back("multiwire " + multiwire);
  }
  if (move.names_legs) notes.emplace_back("half of a tandem breaker");
  return fmt::format("{}", fmt::join(notes, "; "));
}

// "3, 5" for the poles of a circuit.
std::string spaces_text(const BalanceView& view, int circuit, int first) {
  std::string text = fmt::format("{}", first);
  for (int pole = 1; pole < view.circuit(circuit).poles; ++pole) {
    text += fmt::format(", {}", first + 2 * pole);
  }
  return text;
}

std::string moves_table(const BalanceView& view, const BalancePlan& plan) {
  const bool several = view.report.house.panels.size() > 1;
  std::vector<Column> columns{{"circuit"}};
  if (several) columns.push_back({"panel"});
  for (Column column : {Column{"from space", Align::Right}, Column{"leg"},
                        Column{"to space", Align::Right}, Column{"leg"}, Column{"note"}}) {
    columns.push_back(std::move(column));
  }
  TextTable table(std::move(columns));
  for (const CircuitMove& move : plan.moved) {
    std::vector<std::string> cells{view.circuit(move.circuit).name};
    if (several) cells.push_back(view.panel(move.panel).name);
    cells.push_back(spaces_text(view, move.circuit, move.from_space));
    cells.push_back(fmt::format("{}", fmt::join(move.from_legs, ", ")));
    cells.push_back(spaces_text(view, move.circuit, move.to_space));
    cells.push_back(fmt::format("{}", fmt::join(move.to_legs, ", ")));
    cells.push_back(note_of(view, move));
    table.add(std::move(cells));
  }
  return table.text();
}

std::string plan_words(const BalanceView& view, int index) {
  const BalancePlan& plan = view.plan(index);
  std::string words = fmt::format("Plan {}: {}", plan_number(index),
                                  counted(static_cast<std::size_t>(plan.moves), "circuit") +
                                      (plan.moves == 1 ? " changes leg" : " change leg"));
  if (const std::size_t slides = slides_of(plan); slides > 0) {
    words += fmt::format(", {} to another space of {} own leg to make room",
                         slides == 1 ? "one slides" : fmt::format("{} slide", slides),
                         slides == 1 ? "its" : "their");
  }
  return words + fmt::format("; {} A apart at most.", amps_text(plan.spread_amps));
}

std::string none_words(const Balance& balance) {
  if (!balance.complete) {
    return fmt::format(
        "None of up to {} is better than the house as it is. Plans of more were not "
        "looked for.",
        counted(static_cast<std::size_t>(balance.searched_moves), "move"));
  }
  return "No plan is better than the house as it is.";
}

void add_effects(TextTable& table, const BalanceView& view, const std::string& which,
                 const NeutralFigures& figures) {
  const auto as_found =
      figures.as_found ? std::optional<double>(figures.as_found->si()) : std::nullopt;
  std::vector<std::string> worst{"-", "-", "-"};
  if (figures.worst) {
    const auto load = static_cast<std::size_t>(figures.worst->load);
    worst = {fixed(figures.worst->over, 2), view.report.house.loads[load].name,
             figures.worst_place};
  }
  table.add({which, as_found ? amps_text(*as_found) : "-",
             shown(true, figures.highest, Side::Highest),
             fmt::format("{} of {}{}", figures.past, figures.loads, figures.proven ? "" : " ?"),
             worst[0], worst[1], worst[2]});
}

// Feeders whose breaker sits in spaces that are not described.
std::string unplaced_feeders(const BalanceView& view) {
  std::vector<std::string> names;
  for (std::size_t p = 1; p < view.report.house.panels.size(); ++p) {
    const Panel& panel = view.report.house.panels[p];
    if (panel.at_spaces.empty()) names.push_back(in_quotes(panel.name));
  }
  if (names.empty()) return "";
  return paragraph(fmt::format("no space is given for the feeder of {} (`at_spaces`): a plan may "
                               "take one that its breaker sits in.",
                               listed(names)),
                   2, 2);
}

}  // namespace

std::string plans_section(const BalanceView& view, const std::vector<int>& told) {
  const Balance& balance = view.report.balance;
  std::string text = heading("Plans: the smallest spread that so many moved circuits can reach");
  if (balance.plans.empty()) return text + paragraph(none_words(balance));
  text += plans_table(view) +
          paragraph(
              "apart: the largest leg less the smallest, of the service, in the scenario "
              "where they are furthest apart. A moved circuit changes leg; one that slides "
              "keeps its leg. proven: no choice of so many circuits does better.");
  if (view.report.keep_spares) text += paragraph("Spaces that are empty stay empty.");
  if (!balance.complete) {
    text +=
        paragraph(fmt::format("Plans of more than {} were not looked for.",
                              counted(static_cast<std::size_t>(balance.searched_moves), "move")));
  }
  for (int plan : told) {
    text += "\n" + paragraph(plan_words(view, plan)) + moves_table(view, view.plan(plan)) +
            limits_after(view, view.plan(plan));
  }
  const std::size_t untold = balance.plans.size() - told.size();
  if (untold > 0) {
    text += "\n" +
            paragraph(fmt::format("{} not told here: --plan N tells any of them, with the "
                                  "schedule before and after.",
                                  untold == 1 ? "One plan is" : counted(untold, "plan") + " are"));
  } else if (told.size() > 1) {
    text += "\n" + paragraph("--plan N shows a plan's schedule before and after.");
  }
  return text;
}

std::string plan_effects_section(const BalanceView& view) {
  const BalanceReport& report = view.report;
  if (!report.as_it_is) return "";
  TextTable table({{""},
                   {"neutral A", Align::Right},
                   {"highest A", Align::Right},
                   {"loads past", Align::Right},
                   {"worst over", Align::Right},
                   {"worst load"},
                   {"open at"}});
  add_effects(table, view, "as it is", *report.as_it_is);
  bool proven = report.as_it_is->proven;
  for (std::size_t p = 0; p < report.with_plan.size(); ++p) {
    if (!report.with_plan[p]) continue;
    proven = proven && report.with_plan[p]->proven;
    add_effects(table, view, "plan " + plan_number(static_cast<int>(p)), *report.with_plan[p]);
  }
  std::string text =
      heading("What plans do to the service neutral, and if a neutral opens") + table.text();
  text += paragraph(
      "neutral: the service neutral's current as found, by the audit's circuit solution. highest: "
      "over all credible states, all neutrals sound; it may rise where the scenarios come closer. "
      "loads past: those that some open neutral could take past what they withstand, of all that "
      "are on a neutral. worst over: the volts of the worst of them, over what it withstands.");
  if (!proven) {
    text += paragraph("?: not all of these are proven; a credible state may take a load further.");
  }
  return text;
}

std::string fixed_section(const BalanceView& view) {
  const std::vector<FixedCircuit>& fixed = view.report.balance.fixed;
  const std::string feeders = unplaced_feeders(view);
  if (fixed.empty() && feeders.empty()) return "";
  std::string text = heading("What no plan moves");
  std::vector<std::string> reasons;
  for (const FixedCircuit& one : fixed) {
    if (std::count(reasons.begin(), reasons.end(), one.why) == 0) reasons.push_back(one.why);
  }
  for (const std::string& why : reasons) {
    std::vector<std::string> names;
    for (const FixedCircuit& one : fixed) {
      if (one.why == why) names.push_back(in_quotes(view.circuit(one.circuit).name));
    }
    text += paragraph(fmt::format("{}: {}.", why, listed(names)), 2, 2);
  }
  return text + feeders;
}

std::string plan_cautions_section() {
  return heading("What a plan is") +
         paragraph(
             "A plan is arithmetic over what is described. Whether the breakers fit their "
             "new spaces, whether the panel's label allows a tandem breaker there, whether "
             "the conductors reach, and whether AFCI and GFCI breakers, handle ties and "
             "shared neutrals still go together is for a licensed electrician to see on "
             "site. Moving circuits in a panel is licensed work, and the directory changes "
             "with it.") +
         paragraph(
             "The loads that run at one moment decide, not the plan: see the leg loads of "
             "every scenario, and clamp the legs afterwards.");
}

}  // namespace evenleg
