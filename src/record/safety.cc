#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/network/places.h"
#include "evenleg/report/audit_words.h"
#include "evenleg/report/cautions.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

bool is_for_client(const Fill& fill) { return fill.options.reader == Reader::Client; }

// What the readings have to say of it.
std::string of_readings(const Fill& fill) {
  const Job& job = fill.job;
  if (const std::string pattern = neutral_pattern(job); !pattern.empty()) {
    return is_for_client(fill)
               ? "What was measured and reported fits a poor connection in the wire that all parts "
                 "of the supply share, the neutral. It does not show why."
               : fmt::format("Readings and reports are consistent with {}. They name no cause.",
                             pattern);
  }
  if (!neutral_evidence(job).empty()) {
    return is_for_client(fill)
               ? "What was measured fits a poor connection in the wire that all parts of the "
                 "supply share, the neutral. It does not show why."
               : "The readings are consistent with added resistance in a neutral. They name no "
                 "cause.";
  }
  if (job.house.readings.empty() && !job.log) {
    return "Nothing was measured: whether a neutral is loose or open was not determined.";
  }
  return "What was measured does not speak for a loose or open neutral, and does not rule one out.";
}

std::string of_audit(const Fill& fill) {
  const Job& job = fill.job;
  const RankRow& worst = job.audit.ranking.front();
  const Load& load = fill.load(worst.load);
  constexpr int kMostColumns = 40;
  if (is_for_client(fill)) {
    return fmt::format(
        "If that wire opened, {} of the {} things described here could get more volts than they "
        "are made for. The worst is {} ({}): up to {} volts where it is made for {}.",
        loads_past(job), job.house.loads.size(), in_quotes(load.name),
        shortened(load.at, kMostColumns), figure(worst.volts.si()),
        figure(load.volts.value_or(job.system.nominal_volts)));
  }
  return fmt::format(
      "By calculation, if a neutral opened, {} of {} could be past what they withstand. Worst: {} "
      "({}), up to {} V with {} open; it withstands {} V.",
      loads_past(job), counted(job.house.loads.size(), "load"), in_quotes(load.name),
      shortened(load.at, kMostColumns), figure(worst.volts.si()),
      neutral_at(job.audit.open_neutral[static_cast<std::size_t>(worst.place)].place),
      figure(worst.withstands.si()));
}

// What someone on site marked as urgent, else the dangers that the wiring shows.
std::vector<std::string> first_steps(const Job& job) {
  std::vector<std::string> steps;
  for (const char* urgency : {"now", "soon"}) {
    for (const SiteFinding& finding : job.house.findings) {
      if (finding.urgency != urgency || !finding.recommendation) continue;
      steps.push_back(fmt::format("{}{}: {}", capitalised(urgency),
                                  finding.where ? ", " + *finding.where : "",
                                  *finding.recommendation));
    }
  }
  for (const WiringFinding& finding : job.audit.findings) {
    if (finding.severity != FindingSeverity::Danger) continue;
    steps.push_back(fmt::format("{} ({}): {}", capitalised(finding.rule), finding.subject,
                                finding.recommendation));
  }
  return steps;
}

}  // namespace

std::optional<SafetyBlock> safety_block(const Fill& fill) {
  const Job& job = fill.job;
  const std::string pattern = neutral_pattern(job);
  const bool evidence = !pattern.empty() || !neutral_evidence(job).empty();
  const bool reachable = !job.audit.ranking.empty() && loads_past(job) > 0;
  if (!evidence && !reachable) return std::nullopt;
  SafetyBlock block;
  if (evidence) {
    block.title = is_for_client(fill) ? "Do this first" : "First: a neutral that may be failing";
  } else {
    block.title = "First: what to do where a neutral fails";
  }
  block.found.push_back(of_readings(fill));
  if (!is_for_client(fill)) {
    for (const std::string& sentence : neutral_evidence(job)) block.found.push_back(sentence);
  }
  if (reachable) block.found.push_back(of_audit(fill));
  for (const CautionGroup& group : caution_groups()) {
    block.groups.emplace_back(group.title, group.sentences);
    if (is_for_client(fill)) break;  // the occupants' alone; the others are for the trade
  }
  return block;
}

Section summary_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"summary", "In short", {}, false};
  Bullets found;
  if (fill.options.reader == Reader::Contractor) found.items.push_back(plan_words(job));
  found.items.push_back(capitalised(job.diagnosis.verdict) + ".");
  for (const JointHeat& heat : joint_heats(diagnosis_view(job))) {
    found.items.push_back(fmt::format(
        "If the {} ohms of excess in the neutral of {} sit in one joint, its highest current, {} "
        "A{}, makes {} W of heat there.",
        fitted_ohms(heat.ohms), heat.place == "service" ? "the service" : in_quotes(heat.place),
        figure(heat.amps), heat.proven ? "" : " (found, not proven)", figure(heat.watts)));
  }
  for (std::string& line : audit_summary(job.house, job.tables, job.audit)) {
    found.items.push_back(std::move(line));
  }
  section.blocks.emplace_back(std::move(found));
  if (std::vector<std::string> steps = first_steps(job); !steps.empty()) {
    section.blocks.emplace_back(Paragraph{"What is advised first:"});
    section.blocks.emplace_back(Bullets{std::move(steps), true});
  }
  return section;
}

}  // namespace evenleg
