#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/house/load_words.h"
#include "evenleg/report/cautions.h"
#include "evenleg/report/kind_limits.h"
#include "src/record/fill.h"

namespace evenleg {
Section loads_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"loads", "The inputs behind these results", {}, false};
  section.blocks.emplace_back(Bullets{
      {"Legs, neutrals, ranking and outlets: the supply, the runs and every load below, by the "
       "circuit equations, over all credible states (breakers, switching and noncoincident groups "
       "respected).",
       "Leg loads and moves: nameplates of the loads and shares of the scenarios.",
       "What the readings support: the readings, the described runs, and the answers of the visit.",
       "Service calculation: nameplates, the dwelling's figures, and the rules named there."},
      false});
  Sheet sheet{"Loads",
              "Every load as described",
              {{"load", "", false},
               {"outlet", "", false},
               {"legs", "", false},
               {"rating", "", false},
               {"kind", "", false},
               {"state", "", false},
               {"withstands", "V", true},
               {"as found", "V", true},
               {"as found", "A", true}},
              {},
              {},
              0};
  for (std::size_t l = 0; l < job.house.loads.size(); ++l) {
    const Load& load = job.house.loads[l];
    const WiredLoad& wired = job.wiring.loads[l];
    const Cable& cable = job.wiring.cables[static_cast<std::size_t>(wired.cable)];
    const auto row =
        std::find_if(job.audit.loads.begin(), job.audit.loads.end(),
                     [&](const LoadRow& one) { return one.load == static_cast<int>(l); });
    const bool on = row != job.audit.loads.end();
    sheet.rows.push_back(
        {load.name, load.at, legs_text(job.wiring, cable, wired.from, wired.to), rating_text(load),
         load.kind, state_text(load), number(job.withstands(static_cast<int>(l))),
         on ? number(row->volts.si()) : Cell{}, on ? number(row->amps.si()) : Cell{}});
  }
  section.blocks.emplace_back(std::move(sheet));
  return section;
}

Section limits_section(Fill& fill) {
  const Job& job = fill.job;
  Section section{"limits", "Limits used, with their sources", {}, false};
  Sheet sheet{
      "Limits",
      "What figures were held against",
      {{"limit", "", false}, {"figure", "", false}, {"where", "", false}, {"source", "", false}},
      {},
      {},
      0};
  for (const VoltageLimits& limits : job.tables.voltage_limits) {
    if (limits.base_volts != job.system.nominal_volts) continue;
    sheet.rows.push_back(
        {"supply, to neutral: " + limits.name,
         fmt::format("{} to {} V", figure(limits.least_volts), figure(limits.most_volts)),
         limits.jurisdiction, fill.sources.mark(limits.source)});
  }
  const std::vector<int> all = every_load(job.house);
  for (const KindLimit& one : kind_limits(job.house, job.tables, all, fill.sources)) {
    sheet.rows.push_back({fmt::format("withstood without end by {}", fmt::join(one.kinds, ", ")),
                          one.figure, counted(one.loads, "load"), one.source});
  }
  const std::size_t stated = with_own_limit(job.house, all);
  if (stated > 0) {
    sheet.rows.push_back({"withstood, by the load's own max_volts", "as described",
                          counted(stated, "load"), "as described"});
  }
  for (const Severity& severity : job.tables.severities) {
    sheet.rows.push_back({"severity: " + severity.name,
                          fmt::format("over {} and up", fixed(severity.from_over, 2)),
                          severity.meaning, fill.sources.mark(job.tables.severities_source)});
  }
  std::vector<std::string> ampacities;
  for (const NeutralRow& row : job.audit.neutrals) {
    if (!row.rated_amps || std::count(ampacities.begin(), ampacities.end(), row.rated_source) > 0) {
      continue;
    }
    ampacities.push_back(row.rated_source);
    sheet.rows.push_back({"ampacity of neutrals", "see the neutrals", "conductors as described",
                          fill.sources.mark(row.rated_source)});
  }
  if (!job.tables.conductors.empty()) {
    const Conductor& any = job.tables.conductors.front();
    sheet.rows.push_back({"resistance of runs", "by conductor and length", "runs as described",
                          fill.sources.mark(any.resistance_source)});
    sheet.rows.push_back({"reactance of runs", "by conductor and length", "runs as described",
                          fill.sources.mark(any.reactance_source)});
  }
  section.blocks.emplace_back(std::move(sheet));
  return section;
}

// Those of the safety block need not stand twice, and what the figures are worth stands at the foot
// of every record.
Section cautions_section(Fill& fill) {
  Section section{"cautions", "Cautions", {}, false};
  if (fill.safety_first && fill.options.sections.empty()) return section;
  for (const CautionGroup& group : caution_groups()) {
    section.blocks.emplace_back(Paragraph{group.title + ":"});
    section.blocks.emplace_back(Bullets{group.sentences, false});
  }
  return section;
}

Section sources_section(Fill& fill) {
  Section section{"sources", "Sources", {}, false};
  int number = 0;
  for (const std::string& source : fill.sources.entries()) {
    section.blocks.emplace_back(Paragraph{fmt::format("[{}] {}", ++number, source)});
  }
  if (section.blocks.empty()) {
    section.blocks.emplace_back(Paragraph{"No figure of this record comes from a table."});
  }
  return section;
}

Section about_section(Fill& fill) {
  const Provenance& from = fill.options.provenance;
  Section section{"about", "About this record", {}, false};
  Fields fields{{{"Made on", from.date},
                 {"By", from.program},
                 {"From", from.house_file +
                              (from.revision ? fmt::format(", revision {}", *from.revision) : "")},
                 {"Description's fingerprint", from.fingerprint},
                 {"Proof of extremes", fill.job.audit.certified
                                           ? "asked for; each figure says whether it was reached"
                                           : "not asked for"}}};
  if (fill.job.audit.status != SolveStatus::Solved) {
    fields.rows.emplace_back("Solution", std::string(sentence(fill.job.audit.status)));
  }
  section.blocks.emplace_back(std::move(fields));
  return section;
}

}  // namespace evenleg
