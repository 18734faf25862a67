// From clues to ranked patterns, and to the reading that would part the first two.
#pragma once

#include <optional>
#include <vector>

#include "evenleg/diagnose/diagnose.h"
#include "src/diagnose/clues.h"

namespace evenleg {

// Those with a score of at least kNamed, highest first. A text that was given twice counts once.
[[nodiscard]] std::vector<PatternMatch> ranked_patterns(const Clues& clues,
                                                        const SymptomTables& tables);
[[nodiscard]] std::optional<NextReading> next_reading(const std::vector<PatternMatch>& patterns,
                                                      const SymptomTables& tables);

}  // namespace evenleg
