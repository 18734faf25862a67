// The sections of what readings say, each a string of whole lines, "" where it has nothing to say.
#pragma once

#include <string>

#include "evenleg/report/diagnose_text.h"
#include "evenleg/report/source_list.h"

namespace evenleg {

[[nodiscard]] std::string estimates_section(const DiagnosisView& view, SourceList& sources);
[[nodiscard]] std::string patterns_section(const DiagnosisView& view, SourceList& sources);
[[nodiscard]] std::string next_section(const DiagnosisView& view);
// What an opened or loose neutral would do there, joined from the audit.
[[nodiscard]] std::string consequence_section(const DiagnosisView& view);
[[nodiscard]] std::string starts_section(const DiagnosisView& view);
[[nodiscard]] std::string doubts_section(const DiagnosisView& view);

}  // namespace evenleg
