#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/report/cautions.h"
#include "src/record/fill.h"

namespace evenleg {
namespace {

Statement of_site(const SiteFinding& finding, bool with_action) {
  Statement statement{finding.where.value_or("Where: not noted"), finding.urgency.value_or(""), {}};
  statement.parts.emplace_back("Observed", finding.observation);
  if (finding.implication) statement.parts.emplace_back("Implication", *finding.implication);
  if (with_action) statement.parts.emplace_back("Action taken", "");
  statement.parts.emplace_back(with_action ? "Action advised" : "Recommendation",
                               finding.recommendation.value_or(""));
  return statement;
}

Statement of_wiring(Fill& fill, const WiringFinding& finding, bool with_action) {
  Statement statement{capitalised(fmt::format("{}, {}", finding.subject, finding.rule)),
                      std::string(name_of(finding.severity)),
                      {}};
  statement.parts.emplace_back(with_action ? "Described" : "Observation", finding.observation);
  statement.parts.emplace_back("Implication", finding.implication);
  if (with_action) statement.parts.emplace_back("Action taken", "");
  statement.parts.emplace_back(with_action ? "Action advised" : "Recommendation",
                               finding.recommendation);
  statement.parts.emplace_back("Source", fill.sources.mark(finding.source));
  return statement;
}

// Dangers first, then cautions, then notes, each in the audit's order.
std::vector<const WiringFinding*> by_weight(const Audit& audit) {
  std::vector<const WiringFinding*> findings;
  for (const WiringFinding& finding : audit.findings) findings.push_back(&finding);
  std::stable_sort(findings.begin(), findings.end(),
                   [](const WiringFinding* a, const WiringFinding* b) {
                     return static_cast<int>(a->severity) > static_cast<int>(b->severity);
                   });
  return findings;
}

int weight_of(const std::optional<std::string>& urgency) {
  constexpr const char* kUrgencies[] = {"now", "soon", "when convenient", "for information"};
  const auto found = std::find(std::begin(kUrgencies), std::end(kUrgencies), urgency.value_or(""));
  return static_cast<int>(found - std::begin(kUrgencies));
}

std::vector<const SiteFinding*> by_urgency(const House& house) {
  std::vector<const SiteFinding*> findings;
  for (const SiteFinding& finding : house.findings) findings.push_back(&finding);
  std::stable_sort(findings.begin(), findings.end(),
                   [](const SiteFinding* a, const SiteFinding* b) {
                     return weight_of(a->urgency) < weight_of(b->urgency);
                   });
  return findings;
}

// The words for how something is known, where it is not plain from the block itself.
std::string evidence_word(const WiringFinding& finding) {
  return finding.undetermined ? "not determined"
                              : "from the record of the house; not marked as seen on site";
}

}  // namespace

Section findings_section(Fill& fill) {
  Section section{"findings", "Findings", {}, false};
  for (const SiteFinding* finding : by_urgency(fill.job.house)) {
    section.blocks.emplace_back(of_site(*finding, true));
  }
  if (!fill.job.audit.findings.empty()) {
    section.blocks.emplace_back(
        Paragraph{"Worked out by the description of the house, not seen on site:"});
  }
  for (const WiringFinding* finding : by_weight(fill.job.audit)) {
    section.blocks.emplace_back(of_wiring(fill, *finding, true));
  }
  if (section.blocks.empty())
    section.blocks.emplace_back(Paragraph{"None was noted or worked out."});
  return section;
}

Section inspection_limits_section(Fill& fill) {
  const House& house = fill.job.house;
  Section section{"inspection-limits", "Limits of this inspection", {}, false};
  Bullets limits;
  limits.items = {
      std::string(house.readings.empty()
                      ? "It was visual and of limited scope"
                      : "It was of limited scope: what was seen, and the readings "
                        "listed") +
          ", on the conditions of the day. Concealed wiring was not seen.",
      "It is no inspection for compliance with a code. The edition in force and its local "
      "amendments, and the authority having jurisdiction, decide.",
      "Calculated values are estimates from nameplates and described runs. They take the place of "
      "no evaluation by a licensed electrician.",
      "Words of evidence: observed, seen on site; measured, shown by an instrument on site; "
      "reported, said by the occupant or taken from a description; calculated, worked out from "
      "what is described; not determined, none of these."};
  if (const std::string access = visit_field(house, "access"); !access.empty()) {
    limits.items.push_back("Access: " + access);
  }
  section.blocks.emplace_back(std::move(limits));
  return section;
}

Section observations_section(Fill& fill) {
  Section section{"observations", "Observations, implications, recommendations", {}, false};
  for (const SiteFinding* finding : by_urgency(fill.job.house)) {
    Statement block = of_site(*finding, false);
    block.parts.insert(block.parts.begin(), {"Evidence", "observed or measured on site"});
    section.blocks.emplace_back(std::move(block));
  }
  if (const std::string words = visit_field(fill.job.house, "complaint"); !words.empty()) {
    section.blocks.emplace_back(
        Statement{"What the occupant says",
                  "",
                  {{"Evidence", "reported by occupant"}, {"Observation", words}}});
  }
  for (const WiringFinding* finding : by_weight(fill.job.audit)) {
    Statement block = of_wiring(fill, *finding, false);
    block.parts.insert(block.parts.begin(), {"Evidence", evidence_word(*finding)});
    section.blocks.emplace_back(std::move(block));
  }
  if (section.blocks.empty())
    section.blocks.emplace_back(Paragraph{"None was noted or worked out."});
  return section;
}

Section not_determined_section(Fill& fill) {
  const Job& job = fill.job;
  const House& house = job.house;
  Section section{"not-determined", "What was not determined, and why", {}, false};
  Bullets list;
  if (house.readings.empty()) {
    list.items.push_back("Whether any neutral is loose or open: no reading was taken.");
  }
  for (const MissingReadings& one : job.diagnosis.estimation.missing) {
    list.items.push_back(
        fmt::format("The resistance of {} up to {}: the readings do not tell {} apart{}.",
                    listed(one.conductors), one.place, one.conductors.size() > 1 ? "them" : "it",
                    one.take.empty() ? "" : "; a reading " + listed(one.take) + " would"));
  }
  for (const Multiwire& multiwire : house.multiwires) {
    if (!multiwire.common_disconnect) {
      list.items.push_back(
          fmt::format("Whether the circuits of multiwire {} disconnect together: not recorded.",
                      multiwire.name));
    }
    if (multiwire.neutral_joint == "unknown") {
      list.items.push_back(fmt::format(
          "How the shared neutral of {} is joined in its boxes: not recorded.", multiwire.name));
    }
  }
  std::size_t bare = 0;
  for (const Circuit& circuit : house.circuits) {
    if (!circuit.run.conductor && !circuit.run.hot_ohms) ++bare;
  }
  if (bare > 0) {
    list.items.push_back(fmt::format(
        "Conductor and length of {}: not recorded; taken as without resistance, or as the run "
        "upstream.",
        counted(bare, "circuit")));
  }
  if (!job.service.place.name.empty() && house.service && !house.service->earth_return_ohms) {
    list.items.push_back(
        "What comes back beside the service neutral, through electrodes or pipes: not described.");
  }
  list.items.push_back(
      "Concealed splices, the inside of closed boxes, the utility's equipment and anything beyond "
      "the meter: not seen.");
  list.items.push_back(
      "The volts that any equipment really had at any past moment: a model gives ranges, never "
      "what "
      "was.");
  section.blocks.emplace_back(std::move(list));
  return section;
}

}  // namespace evenleg
