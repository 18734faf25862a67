#include "src/report/audit_sections.h"

#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "evenleg/report/cautions.h"

namespace evenleg {

std::string heading(std::string_view text) { return "\n" + std::string(text) + "\n"; }

std::string paragraph(std::string_view text, int indent, int hang) {
  std::string out;
  int margin = indent;
  for (const std::string& line : wrapped(text, kPageColumns - indent - hang)) {
    out += std::string(static_cast<std::size_t>(margin), ' ') + line + "\n";
    margin = indent + hang;
  }
  return out;
}

std::string shown(double value) { return figure(without_remains(value)); }

std::string title_line(const AuditView& view) {
  constexpr int kMostName = 60;  // columns; beside it stand the system and what was asked for
  const std::string name = shortened(name_of(view.house), kMostName);
  std::string text = "Audit of " + (name.empty() ? std::string("a house without a name") : name) +
                     ", " + view.house.supply.system;
  if (view.options.scenario) text += ", as in scenario " + in_quotes(*view.options.scenario);
  if (!view.audit.certified) text += ", searched without proof";
  return paragraph(text, 0);
}

std::string summary_section(const AuditView& view) {
  std::string text = "\n";
  for (const std::string& line : audit_summary(view.house, view.tables, view.audit)) {
    text += paragraph(line);
  }
  return text;
}

namespace {

constexpr std::string_view kNotLookedAt = "What is not described was not looked at.";

// Labelled parts that can be pasted as they stand, source included; the whole text where there are
// no parts.
std::string finding_block(const WiringFinding& finding, SourceList& sources) {
  if (finding.observation.empty()) {
    const std::string mark = sources.mark(finding.source);
    return paragraph(finding.text + (mark.empty() ? "" : " " + mark), 4);
  }
  std::string text = paragraph("Observation: " + finding.observation, 4) +
                     paragraph("Implication: " + finding.implication, 4) +
                     paragraph("Recommendation: " + finding.recommendation, 4);
  if (!finding.source.empty()) text += paragraph("Source: " + finding.source, 4);
  return text;
}

}  // namespace

std::string findings_section(const AuditView& view, SourceList& sources) {
  constexpr int kMostSubject = 60;  // columns, so that rule and subject fit a line
  std::string text = heading("Wiring findings");
  if (view.audit.findings.empty()) {
    return text + paragraph("The rules that were applied found nothing in what is described. " +
                            std::string(kNotLookedAt));
  }
  for (const FindingSeverity severity :
       {FindingSeverity::Danger, FindingSeverity::Caution, FindingSeverity::Note}) {
    for (const WiringFinding& finding : view.audit.findings) {
      if (finding.severity != severity) continue;
      std::string head = std::string(name_of(severity)) + ": " + finding.rule;
      if (!finding.subject.empty()) head += ", " + shortened(finding.subject, kMostSubject);
      text += paragraph(head, 2, 4);
      text += finding_block(finding, sources);
    }
  }
  return text + paragraph(kNotLookedAt);
}

std::string cautions_section() {
  std::string text = heading("Cautions") + paragraph(standing_caution());
  for (const CautionGroup& group : caution_groups()) {
    text += "\n" + paragraph(group.title);
    for (const std::string& sentence : group.sentences) text += paragraph("- " + sentence, 2, 2);
  }
  return text;
}

}  // namespace evenleg
