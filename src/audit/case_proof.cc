#include "src/audit/case_proof.h"

#include <algorithm>
#include <cmath>

namespace evenleg {

CasesFound search_cases(const std::vector<Problem>& cases, Goal goal,
                        std::optional<Choice>& warm) {
  CasesFound result;
  for (const Problem& problem : cases) {
    result.found.push_back(search(problem, goal, warm));
    const std::optional<Found>& here = result.found.back();
    if (here && (!result.best || improves(goal, here->magnitude, result.best->magnitude))) {
      result.best = here;
    }
  }
  if (result.best) warm = result.best->choice;
  return result;
}

Certificate prove_cases(const std::vector<Problem>& cases, Goal goal, const CasesFound& found,
                        const CertifyOptions& options) {
  Certificate all{*found.best, found.best->magnitude, false};
  for (std::size_t c = 0; c < cases.size(); ++c) {
    if (!found.found[c]) continue;
    const Certificate one = certify(cases[c], goal, *found.found[c], options);
    if (improves(goal, one.best.magnitude, all.best.magnitude)) all.best = one.best;
    if (improves(goal, one.bound, all.bound)) all.bound = one.bound;
  }
  const bool enough = options.enough && !improves(goal, all.bound, *options.enough);
  all.proven = enough || std::abs(all.bound - all.best.magnitude) <= options.proven_within;
  return all;
}

}  // namespace evenleg
