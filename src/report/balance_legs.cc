// Leg amperes by scenario, their imbalance by three formulas, and the circuits that were clamped.
#include <algorithm>

#include "evenleg/base/quoted.h"
#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"
#include "src/report/balance_sections.h"

namespace evenleg {
namespace {

// JEAC 8001, Japan's internal wiring rules, 1305-1: the unbalance of a single-phase three-wire
// supply, and the most that it allows where more even circuits cannot be had.
constexpr double kJapanPercent = 40;

const Citation& japan_rule() {
  static const Citation kRule{"JEAC 8001, Japan's internal wiring rules", "2022", "1305-1",
                              "whole percent", "second hand, an explanation of the rule"};
  return kRule;
}

std::string percent(double value) { return fixed(value, 1); }

TextTable loads_table(const BalanceView& view) {
  std::vector<Column> columns{{"scenario"}};
  for (std::size_t leg = 0; leg < view.legs(); ++leg) {
    columns.push_back({view.leg(leg) + " A", Align::Right});
  }
  columns.push_back({"apart A", Align::Right});
  columns.push_back({"mean %", Align::Right});
  columns.push_back({"largest %", Align::Right});
  if (view.legs() == 2) columns.push_back({"half %", Align::Right});
  return TextTable(std::move(columns));
}

// `legs`: those that the panel has; a leg that it does not have shows "-" and counts for nothing.
void add_row(const BalanceView& view, TextTable& table, const std::string& scenario,
             const std::vector<double>& amps, const std::vector<int>& legs) {
  std::vector<double> there;
  for (int leg : legs) there.push_back(amps[static_cast<std::size_t>(leg)]);
  std::vector<std::string> cells{scenario};
  for (std::size_t leg = 0; leg < view.legs(); ++leg) {
    const bool has = std::count(legs.begin(), legs.end(), static_cast<int>(leg)) > 0;
    cells.push_back(has ? amps_text(amps[leg]) : "-");
  }
  const Imbalance uneven = imbalance(there);
  cells.push_back(amps_text(spread(there)));
  cells.push_back(percent(uneven.by_mean));
  cells.push_back(percent(uneven.by_largest));
  if (view.legs() == 2) cells.push_back(there.size() == 2 ? percent(uneven.by_half) : "-");
  table.add(std::move(cells));
}

std::string service_table(const BalanceView& view) {
  std::vector<int> all;
  for (std::size_t leg = 0; leg < view.legs(); ++leg) all.push_back(static_cast<int>(leg));
  TextTable table = loads_table(view);
  for (const LegLoads& row : view.report.balance.scenarios) {
    add_row(view, table, row.scenario, row.service, all);
  }
  return paragraph(fmt::format("Service and panel {}:", in_quotes(view.panel(0).name))) +
         table.text();
}

// The first panel carries all that the service does.
std::string panel_tables(const BalanceView& view) {
  std::string text;
  for (std::size_t p = 1; p < view.report.house.panels.size(); ++p) {
    TextTable table = loads_table(view);
    for (const LegLoads& row : view.report.balance.scenarios) {
      add_row(view, table, row.scenario, row.panels[p], view.wiring.panels[p].legs);
    }
    text += "\n" +
            paragraph(fmt::format("Panel {}:", in_quotes(view.report.house.panels[p].name))) +
            table.text();
  }
  return text;
}

std::string past_japan(const BalanceView& view) {
  std::vector<std::string> past;
  for (const LegLoads& row : view.report.balance.scenarios) {
    if (imbalance(row.service).by_half > kJapanPercent)
      past.push_back(scenario_words(row.scenario));
  }
  if (past.empty()) return "No scenario here is past that at the service.";
  return fmt::format("Past that at the service here: {}.", listed(past));
}

std::string formulas(const BalanceView& view, SourceList& sources) {
  std::string text =
      "\n" + paragraph("Trades state unevenness by different formulas:") +
      paragraph("mean %: 100 · (the leg furthest from the mean, less the mean) / the mean", 4) +
      paragraph("largest %: 100 · (largest leg − smallest leg) / largest leg", 4);
  if (view.legs() != 2) return text;
  text += paragraph("half %: 100 · |one leg − the other| / (half of their sum)", 4);
  return text + paragraph(fmt::format(
                    "The last is Japan's, where a single-phase three-wire supply may go to {} % "
                    "where it cannot be avoided {}. That rule counts the connected volt-amperes of "
                    "all circuits; a scenario counts those that run in it. {}",
                    exact(kJapanPercent), sources.mark(japan_rule()), past_japan(view)));
}

std::string clamped(const BalanceView& view) {
  std::vector<std::string> readings;
  for (int c : view.report.balance.measured) {
    const Circuit& circuit = view.circuit(c);
    readings.push_back(fmt::format("{} {} A{}", in_quotes(circuit.name),
                                   amps_text(circuit.measured_amps.value_or(0)),
                                   circuit.poles > 1 ? " on each leg" : ""));
  }
  if (readings.empty()) return "";
  return paragraph(fmt::format(
      "As found, {} with the clamp reading in place of the nameplates: {}. In other scenarios "
      "they count by their loads, since a reading is of the house as found.",
      readings.size() == 1 ? "one circuit counts" : counted(readings.size(), "circuit") + " count",
      listed(readings)));
}

}  // namespace

std::string amps_text(double amps) { return shown(amps); }

std::string scenario_words(const std::string& scenario) {
  return scenario == "as found" ? scenario : in_quotes(scenario);
}

std::string legs_amps_text(const BalanceView& view, const std::vector<double>& amps) {
  std::vector<std::string> legs;
  for (std::size_t leg = 0; leg < amps.size(); ++leg) {
    legs.push_back(fmt::format("{} {} A", view.leg(leg), amps_text(amps[leg])));
  }
  return listed(legs);
}

std::size_t furthest_apart(const std::vector<LegLoads>& scenarios) {
  const auto apart = [](const LegLoads& a, const LegLoads& b) {
    return spread(a.service) < spread(b.service);
  };
  return static_cast<std::size_t>(std::max_element(scenarios.begin(), scenarios.end(), apart) -
                                  scenarios.begin());
}

std::string leg_loads_section(const BalanceView& view, SourceList& sources) {
  std::string text = heading("Leg loads by scenario") + service_table(view) + panel_tables(view);
  text += "\n" + paragraph(
                     "Each load that runs counts with its nominal volt-amperes over its nominal "
                     "volts, times its share in the scenario, on each leg that it connects to: the "
                     "trade's sum of amperes, without power factor angles or voltage drop. What is "
                     "not described counts for nothing.");
  return text + clamped(view) + formulas(view, sources);
}

}  // namespace evenleg
