#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/base/text_table.h"
#include "src/report/audit_sections.h"
#include "src/report/diagnose_sections.h"

namespace evenleg {
namespace {

constexpr std::size_t kInFull = 3;
constexpr int kEvidenceIndent = 6;
constexpr int kHang = 2;

std::string evidence(const char* sign, const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) {
    all += paragraph(fmt::format("{} {}", sign, text), kEvidenceIndent, kHang);
  }
  return all;
}

}  // namespace

std::string patterns_section(const DiagnosisView& view, SourceList& sources) {
  const std::vector<PatternMatch>& patterns = view.diagnosis.patterns;
  if (patterns.empty()) return "";
  std::string text = heading("What this is consistent with, most supported first");
  for (std::size_t i = 0; i < patterns.size(); ++i) {
    const PatternMatch& one = patterns[i];
    if (!view.all && i == kInFull) {
      text += "\n" + paragraph(fmt::format("and {} less supported (--all shows them).",
                                           counted(patterns.size() - kInFull, "pattern")));
      break;
    }
    text +=
        "\n" +
        paragraph(fmt::format("{}. {}. People then see: {}.", i + 1, one.title, one.seen), 2, 3);
    text += evidence("+", one.for_it) + evidence("−", one.against_it);
  }
  const std::string mark = sources.mark(view.tables.symptoms.source);
  return text + "\n" +
         paragraph(fmt::format("+ speaks for it, − against it. The grid of conditions is common "
                               "practice{}; what each clue weighs is judgement.",
                               mark.empty() ? "" : " " + mark));
}

std::string next_section(const DiagnosisView& view) {
  const auto& next = view.diagnosis.next;
  if (!next) return "";
  const auto& patterns = view.diagnosis.patterns;
  return heading("The next reading") +
         paragraph(fmt::format("Take {}. With {}: {}. With {}: {}.", next->take, patterns[0].title,
                               next->first_shows, patterns[1].title, next->second_shows));
}

std::string doubts_section(const DiagnosisView& view) {
  const Diagnosis& all = view.diagnosis;
  std::string text;
  if (!all.joints.empty()) {
    text += heading("Across a joint");
    for (const JointReading& joint : all.joints) {
      const Reading& reading = view.house.readings[static_cast<std::size_t>(joint.reading)];
      std::string line = fmt::format("{}: {} V", reading.at, fixed(joint.volts, 1));
      if (joint.ohms) {
        line += fmt::format(" at {} A: {} Ω and {} W in the joint", fixed(*joint.amps, 1),
                            figure(*joint.ohms), figure(*joint.watts));
      }
      text += paragraph(line + ". A sound joint under load shows next to nothing.");
    }
  }
  if (!all.beside.empty()) {
    text += heading("Current beside the neutral");
    for (const std::string& sentence : all.beside) text += paragraph(sentence, 2, kHang);
  }
  if (!all.traps.empty()) {
    text += heading("Readings to distrust");
    for (const std::string& sentence : all.traps) text += paragraph(sentence, 2, kHang);
  }
  return text;
}

}  // namespace evenleg
