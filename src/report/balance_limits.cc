// Each leg against what its source gives on one leg, and what to shed.
#include <algorithm>

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"
#include "src/report/balance_sections.h"

namespace evenleg {
namespace {

bool is_over(const LegLimit& row) { return row.over_amps > kNothing; }

std::string panel_words(const BalanceView& view, const LegLimit& row) {
  const bool is_given =
      view.report.limit_options.amps && view.report.limit_options.panel == row.panel;
  return fmt::format("{}{}, {} A on each leg{}", row.panel == 0 ? "Service and panel " : "Panel ",
                     in_quotes(view.panel(row.panel).name), exact(row.limit_amps),
                     is_given ? " (as asked)" : " by its breaker_a");
}

std::string shed_words(const BalanceView& view, const Shed& shed) {
  const std::string name =
      shed.load >= 0
          ? in_quotes(view.report.house.loads[static_cast<std::size_t>(shed.load)].name)
          : "circuit " + in_quotes(view.circuit(shed.circuit).name) + " (by its clamp reading)";
  return fmt::format("{} ({} A on {}{})", name, amps_text(shed.amps),
                     view.leg(static_cast<std::size_t>(shed.leg)),
                     shed.always_on ? ", described as always on" : "");
}

std::string over_words(const BalanceView& view, const LegLimit& row) {
  std::vector<std::string> shed;
  for (const Shed& one : row.shed) shed.push_back(shed_words(view, one));
  const std::string head =
      fmt::format("{}: {} is {} A over.", scenario_words(row.scenario),
                  view.leg(static_cast<std::size_t>(row.leg)), amps_text(row.over_amps));
  if (!row.fits) {
    return fmt::format("{} It stays over even with all that is described on it shed.", head);
  }
  return fmt::format("{} To shed, largest first: {}. That leaves {}.", head, listed(shed),
                     legs_amps_text(view, row.left));
}

std::string one_panel(const BalanceView& view, std::vector<LegLimit>::const_iterator from,
                      std::vector<LegLimit>::const_iterator to) {
  TextTable table({{"scenario"},
                   {"fullest leg"},
                   {"A", Align::Right},
                   {"limit A", Align::Right},
                   {"left A", Align::Right},
                   {"over A", Align::Right}});
  std::string over;
  for (auto row = from; row != to; ++row) {
    const auto leg = static_cast<std::size_t>(row->leg);
    table.add({row->scenario, view.leg(leg), amps_text(row->amps[leg]), exact(row->limit_amps),
               is_over(*row) ? "-" : amps_text(std::max(0.0, -row->over_amps)),
               is_over(*row) ? amps_text(row->over_amps) : "-"});
    if (is_over(*row)) over += paragraph(over_words(view, *row), 2, 2);
  }
  return paragraph(panel_words(view, *from) + ":") + table.text() + over;
}

}  // namespace

std::string leg_limits_section(const BalanceView& view) {
  const std::vector<LegLimit>& rows = view.report.limits;
  if (rows.empty()) return "";
  std::string text = heading("Legs against their limit");
  for (auto from = rows.begin(); from != rows.end();) {
    const auto to = std::find_if(from, rows.end(),
                                 [&](const LegLimit& row) { return row.panel != from->panel; });
    if (from != rows.begin()) text += "\n";
    text += one_panel(view, from, to);
    from = to;
  }
  text +=
      "\n" + paragraph(
                 "A generator or an inverter has a limit on each leg (of a 120/240 V output each "
                 "leg gives about half of the rated volt-amperes), and the fullest leg reaches "
                 "it first. Try another limit with --limit AMPS, of another panel with "
                 "--limit-at PANEL.");
  if (std::any_of(rows.begin(), rows.end(), is_over)) {
    text += paragraph(
        "To shed: while a leg is over, the load with the most amperes on it, those that are always "
        "on last. Starting currents are not counted, and which loads somebody can do without is "
        "theirs to say.");
  }
  return text;
}

}  // namespace evenleg
