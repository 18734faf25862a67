// The sections of what readings say, each a string of whole lines, "" where it has nothing to say.
#pragma once

#include <string>

#include "evenleg/report/diagnose_text.h"
#include "src/report/source_list.h"

namespace evenleg {

[[nodiscard]] std::string estimates_section(const DiagnosisView& view, SourceList& sources);
[[nodiscard]] std::string patterns_section(const DiagnosisView& view, SourceList& sources);
[[nodiscard]] std::string next_section(const DiagnosisView& view);
// What an opened or loose neutral would do there, joined from the audit.
[[nodiscard]] std::string consequence_section(const DiagnosisView& view);
[[nodiscard]] std::string starts_section(const DiagnosisView& view);
[[nodiscard]] std::string doubts_section(const DiagnosisView& view);

// A neutral of the service or a feeder that stands out, with what the audit says of it.
struct JointHeat {
  std::string place;  // as an audit names it: "service", a panel
  double ohms = 0;    // excess
  double amps = 0;    // the neutral's highest
  double watts = 0;
  bool proven = false;
  int loads_past = 0;  // past what they withstand if it opens
  std::string worst;   // the worst of them, "" when there is none
};
[[nodiscard]] std::vector<JointHeat> joint_heats(const DiagnosisView& view);

}  // namespace evenleg
