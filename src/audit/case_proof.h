// One extreme over problems that together cover all credible choices, the cases: searched, then
// proven.
//
// Most questions are one case. A floating neutral that nothing joins feeds nothing, so that an
// empty outlet beyond it has a case for each element that is the first to join it (fault_case.cc).
#pragma once

#include <optional>
#include <vector>

#include "src/audit/certify.h"

namespace evenleg {

struct CasesFound {
  std::vector<std::optional<Found>> found;  // by case; nothing where no choice is credible
  std::optional<Found> best;
};

// `warm`: a choice to start from, if any; becomes the best choice found.
[[nodiscard]] CasesFound search_cases(const std::vector<Problem>& cases, Goal goal,
                                      std::optional<Choice>& warm);

// Requires: `found` is of these cases and has a best.
[[nodiscard]] Certificate prove_cases(const std::vector<Problem>& cases, Goal goal,
                                      const CasesFound& found, const CertifyOptions& options);

}  // namespace evenleg
