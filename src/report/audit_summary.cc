#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

struct Count {
  std::size_t loads = 0;
  const OpenNeutral* open = nullptr;
};

// The places at which loads are past what they withstand, most loads first.
std::vector<Count> counts_by_place(const House& house, const Audit& audit) {
  std::vector<Count> counts;
  for (const OpenNeutral& open : audit.open_neutral) {
    const std::size_t loads = past_at(house, audit, open).size();
    if (loads > 0) counts.push_back({loads, &open});
  }
  std::stable_sort(counts.begin(), counts.end(),
                   [](const Count& a, const Count& b) { return a.loads > b.loads; });
  return counts;
}

// Whether every highest voltage is known to be the highest.
bool all_certain(const Audit& audit) {
  const auto certain = [](const OpenNeutral& open) {
    return std::all_of(open.loads.begin(), open.loads.end(),
                       [](const LoadExtremes& row) { return !row.highest || row.highest->proven; });
  };
  return audit.certified &&
         std::all_of(audit.open_neutral.begin(), audit.open_neutral.end(), certain);
}

std::string how_many(const House& house, const Audit& audit, std::size_t past) {
  constexpr std::size_t kMostNamed = 3;  // places in one sentence
  std::string text =
      fmt::format("If a neutral opened, {}{} of {} could be past what {}: ",
                  all_certain(audit) ? "" : "at least ", past, counted(house.loads.size(), "load"),
                  past == 1 ? "it withstands" : "they withstand");
  const std::vector<Count> counts = counts_by_place(house, audit);
  std::vector<std::string> parts;
  for (const Count& count : counts) {
    if (parts.size() == kMostNamed) break;
    parts.push_back(fmt::format("{} with {} open", count.loads, neutral_at(count.open->place)));
  }
  if (counts.size() > kMostNamed) {
    parts.push_back("some at " + counted(counts.size() - kMostNamed, "more place"));
  }
  return text + listed(parts) + ".";
}

// No load is past its limit: how far that is known.
std::string none_past(const Audit& audit) {
  if (all_certain(audit)) {
    return "As described, no credible state takes a load past what it withstands when a neutral "
           "opens.";
  }
  return "No state was found that takes a load past what it withstands when a neutral opens, but "
         "it is not proven that there is none.";
}

// What follows a voltage that is not known to be the highest.
std::string how_far(const Audit& audit, const Extreme<Volts>& highest) {
  if (highest.proven && audit.certified) return "";
  if (!audit.certified || !std::isfinite(highest.bound.si())) return " or more";
  return fmt::format(" or more, at most {} V", figure(highest.bound.si()));
}

std::string worst(const House& house, const Tables& tables, const Audit& audit) {
  const RankRow& row = audit.ranking.front();
  const Load& load = house.loads[static_cast<std::size_t>(row.load)];
  const OpenNeutral& open = audit.open_neutral[static_cast<std::size_t>(row.place)];
  const LoadExtremes* extremes = extremes_of(open, row.load);
  constexpr int kMostColumns = 40;  // of an outlet's name in a sentence
  std::string more;
  if (extremes != nullptr && extremes->highest) more = how_far(audit, *extremes->highest);
  std::string text =
      fmt::format("{}: if {} opens, {} ({}) could see {} V{}; it withstands {} V. {}",
                  row.over > 1 ? "Worst" : "Nearest", neutral_at(open.place), in_quotes(load.name),
                  shortened(load.at, kMostColumns), figure(row.volts.si()), more,
                  figure(row.withstands.si()), what_it_takes(house, tables, row.on));
  if (open.protected_by) {
    text += fmt::format(" The neutral-loss device of {} would open first.",
                        in_quotes(*open.protected_by));
  }
  return text;
}

std::string also(const Audit& audit) {
  const auto count = [&](FindingSeverity severity) {
    return static_cast<std::size_t>(
        std::count_if(audit.findings.begin(), audit.findings.end(),
                      [&](const WiringFinding& finding) { return finding.severity == severity; }));
  };
  std::string text =
      audit.findings.empty()
          ? "Wiring findings: none worked out; what is not described was not looked at."
          : fmt::format("Wiring findings: {}, {} and {}.",
                        counted(count(FindingSeverity::Danger), "danger"),
                        counted(count(FindingSeverity::Caution), "caution"),
                        counted(count(FindingSeverity::Note), "note"));
  const auto service =
      std::find_if(audit.neutrals.begin(), audit.neutrals.end(),
                   [](const NeutralRow& row) { return row.kind == PlaceKind::Service; });
  if (service == audit.neutrals.end()) return text;
  return text +
         fmt::format(" As found, the service neutral carries {} A.", shown(service->amps.si()));
}

}  // namespace

std::vector<std::string> audit_summary(const House& house, const Tables& tables,
                                       const Audit& audit) {
  std::vector<std::string> lines;
  if (audit.status != SolveStatus::Solved) {
    lines.push_back(fmt::format("The house as found was not solved: {}", sentence(audit.status)));
  }
  const auto past = static_cast<std::size_t>(std::count_if(
      audit.ranking.begin(), audit.ranking.end(), [](const RankRow& row) { return row.over > 1; }));
  if (audit.ranking.empty()) {
    lines.push_back("No load that can run hangs on a neutral that more than one leg uses.");
  } else {
    lines.push_back(past > 0 ? how_many(house, audit, past) : none_past(audit));
    lines.push_back(worst(house, tables, audit));
  }
  lines.push_back(also(audit));
  if (!audit.certified) {
    lines.push_back(
        "Searched without proof: the extremes below are the furthest that were found, and "
        "a credible state may go further.");
  }
  return lines;
}

}  // namespace evenleg
