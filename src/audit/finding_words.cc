#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "src/audit/findings.h"
#include "src/audit/ranking.h"

namespace evenleg {
namespace {

struct Worst {
  const OpenNeutral* open = nullptr;
  const LoadExtremes* row = nullptr;
  double over = 0;
  Volts withstands{};
};

// Nominal leg volts of the place where the rule is law; a rule of elsewhere is for comparison only.
bool is_law_here(const Seen& seen, const WiringRule& rule) {
  const double nominal = seen.wiring.system.nominal_volts;
  constexpr double kUnitedStates = 120;
  constexpr double kJapan = 100;
  if (rule.jurisdiction == "United States") return nominal == kUnitedStates;
  if (rule.jurisdiction == "Japan") return nominal == kJapan;
  return true;
}

// The one or two loads that come after the worst.
std::string next_names(const Seen& seen, const std::map<int, double>& past, int worst) {
  std::vector<std::pair<double, int>> order;
  for (const auto& [load, over] : past) {
    if (load != worst) order.emplace_back(-over, load);
  }
  std::sort(order.begin(), order.end());
  constexpr std::size_t kMostNamed = 2;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < order.size() && i < kMostNamed; ++i) {
    names.push_back(in_quotes(seen.house.loads[at(order[i].second)].name));
  }
  return listed(names);
}

}  // namespace

void add_finding(const Seen& seen, std::vector<WiringFinding>& findings, std::string_view rule,
                 FindingSeverity severity, const std::string& subject, FindingWords words,
                 const std::string& more) {
  WiringFinding finding;
  finding.rule = rule;
  finding.severity = severity;
  finding.subject = subject;
  finding.text = words.observation;
  for (const std::string* part : {&words.implication, &words.recommendation}) {
    if (!part->empty()) finding.text += " " + *part;
  }
  if (const WiringRule* known = find_rule(seen.tables, rule)) {
    finding.source = source_text(*known);
    if (!is_law_here(seen, *known)) {
      finding.source += "; for comparison, since another code is in force on this supply system";
    }
  }
  if (!more.empty()) finding.source += (finding.source.empty() ? "" : "; ") + more;
  finding.observation = std::move(words.observation);
  finding.implication = std::move(words.implication);
  finding.recommendation = std::move(words.recommendation);
  findings.push_back(std::move(finding));
}

std::string quoted_circuits(const Seen& seen, const Cable& cable) {
  std::vector<std::string> names;
  for (int c : cable.circuits) names.push_back(in_quotes(seen.house.circuits[at(c)].name));
  return listed(names);
}

Complex neutral_amps_of(const Seen& seen, int cable, int hot) {
  Complex sum{};
  for (int l : seen.model.cables[at(cable)].loads) {
    const LoadModel& load = seen.model.loads[at(l)];
    if (load.from == hot && load.to == kNeutral) sum += seen.as_found.load_amps[at(l)];
  }
  return sum;
}

Complex hot_amps_of(const Seen& seen, int cable, int hot) {
  Complex sum{};
  for (int l : seen.model.cables[at(cable)].loads) {
    const LoadModel& load = seen.model.loads[at(l)];
    if (load.from == hot) sum += seen.as_found.load_amps[at(l)];
    if (load.to == hot) sum -= seen.as_found.load_amps[at(l)];
  }
  return sum;
}

const NeutralRow* neutral_row(const Seen& seen, PlaceKind kind, std::string_view place) {
  for (const NeutralRow& row : seen.neutrals) {
    if (row.kind == kind && row.place == place) return &row;
  }
  return nullptr;
}

std::string neutral_amps_text(const NeutralRow& row) {
  std::string text = fmt::format("{} A as found", figure(row.amps.si()));
  if (row.highest) {
    text += fmt::format(" and up to {} A{}", figure(row.highest->value.si()),
                        row.highest->proven ? "" : " or more");
  }
  return text;
}

std::string if_these_opened(const Seen& seen, const std::vector<const OpenNeutral*>& asked) {
  Worst worst;
  bool all_proven = true;
  std::map<int, double> past;  // by load: the furthest past what it withstands
  for (const OpenNeutral* open : asked) {
    for (const LoadExtremes& row : open->loads) {
      if (!row.highest) continue;
      all_proven = all_proven && row.highest->proven;
      const Volts withstands = withstood_volts(seen.house.loads[at(row.load)],
                                               seen.model.loads[at(row.load)], seen.tables);
      const double over = row.highest->value / withstands;
      if (is_taken_past(seen, row)) past[row.load] = std::max(past[row.load], over);
      if (worst.row == nullptr || over > worst.over) worst = {open, &row, over, withstands};
    }
  }
  if (worst.row == nullptr) return "";
  const std::string who = in_quotes(seen.house.loads[at(worst.row->load)].name);
  const std::string volts =
      figure(worst.row->highest->value.si()) + (worst.row->highest->proven ? " V" : " V or more");
  if (past.empty() && worst.over > 1) {
    return fmt::format("{} could see {} where it withstands {} V, and is past that as found", who,
                       volts, figure(worst.withstands.si()));
  }
  if (past.empty()) {
    return fmt::format("the nearest to its limit, {}, could see {} of the {} V that it withstands",
                       who, volts, figure(worst.withstands.si()));
  }
  std::string text = fmt::format("{} could see {} where it withstands {} V", who, volts,
                                 figure(worst.withstands.si()));
  if (past.size() > 1) {
    text += fmt::format(", the first of {}{} loads that could be past their limits, before {}",
                        all_proven ? "" : "at least ", past.size(),
                        next_names(seen, past, worst.row->load));
  }
  if (worst.open->protected_by) {
    text += fmt::format("; the neutral-loss device of {} would open first",
                        in_quotes(*worst.open->protected_by));
  }
  return text;
}

}  // namespace evenleg
