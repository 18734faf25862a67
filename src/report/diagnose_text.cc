#include "evenleg/report/diagnose_text.h"

#include "evenleg/base/format.h"
#include "src/report/audit_sections.h"
#include "src/report/diagnose_sections.h"

namespace evenleg {
namespace {

std::string title(const DiagnosisView& view) {
  constexpr int kMostName = 60;  // columns; beside it stand the system and the count
  const std::string name = shortened(name_of(view.house), kMostName);
  const std::size_t readings = view.house.readings.size();
  std::string what = counted(readings, "reading");
  if (view.log != nullptr) what = readings == 0 ? "a log" : what + " and a log";
  const bool one = readings + (view.log == nullptr ? 0 : 1) == 1;
  return paragraph(
      fmt::format("{}, {}: what {} {}", name.empty() ? std::string("A house without a name") : name,
                  view.house.supply.system, what, one ? "says" : "say"),
      0);
}

std::string answer(const DiagnosisView& view) {
  std::string text = capitalised(view.diagnosis.verdict) + ".";
  if (!view.diagnosis.patterns.empty()) {
    text +=
        " Readings support a pattern; they do not name its cause, and they do not rule out "
        "what they do not show.";
  }
  if (view.house.readings.empty() && view.log == nullptr) {
    text +=
        " `evenleg visit` takes readings step by step, `evenleg readings` takes a table of them, "
        "and --log a recorder's log.";
  }
  return "\n" + paragraph(text);
}

}  // namespace

std::optional<double> measured_neutral_excess(const House& house, const Diagnosis& diagnosis) {
  for (const SectionEstimate& section : diagnosis.estimation.sections) {
    if (section.kind != SectionKind::Service || section.to != house.panels.front().name) continue;
    const ConductorEstimate* neutral = section.find("N");
    if (neutral != nullptr && neutral->excess_ohms > 0.0) return neutral->excess_ohms;
  }
  return std::nullopt;
}

std::string diagnose_text(const DiagnosisView& view) {
  SourceList sources;
  std::string text = title(view) + answer(view) + estimates_section(view, sources) +
                     patterns_section(view, sources) + next_section(view) +
                     (view.log == nullptr ? "" : log_text(*view.log)) + consequence_section(view) +
                     starts_section(view) + doubts_section(view);
  if (!sources.entries().empty()) text += heading("Sources") + source_entries(sources);
  return text + cautions_section();
}

}  // namespace evenleg
