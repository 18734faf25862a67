#include "src/audit/worst_first.h"

#include <algorithm>
#include <limits>

namespace evenleg {

void prove_worst_first(const std::vector<PlaceQuestion*>& questions, const LoadLimits& limits,
                       const Progress& progress) {
  struct Job {
    double over = 0;
    std::size_t question = 0;
    std::size_t asked = 0;
  };
  std::vector<Job> jobs;
  for (std::size_t q = 0; q < questions.size(); ++q) {
    if (questions[q]->fault_case().settled_by_search()) continue;
    for (std::size_t i = 0; i < questions[q]->asked().size(); ++i) {
      jobs.push_back({over_limit(*questions[q], i, limits), q, i});
    }
  }
  std::stable_sort(jobs.begin(), jobs.end(),
                   [](const Job& a, const Job& b) { return a.over > b.over; });
  at_once(progress, "proving worst cases, worst first", jobs.size(), [&](std::size_t j) {
    questions[jobs[j].question]->fault_case().prove(jobs[j].asked);
  });
  for (PlaceQuestion* question : questions) question->fault_case().finish();
}

void prove_outermost(const std::vector<PlaceQuestion*>& questions, const Progress& progress) {
  constexpr double kSlack = 0.009;  // volts: within what counts as proven
  at_once(progress, "proving highest and lowest of all", questions.size(), [&](std::size_t q) {
    FaultCase& fault_case = questions[q]->fault_case();
    double highest = 0;
    double lowest = std::numeric_limits<double>::infinity();
    for (const Extremes<Volts>& found : fault_case.extremes()) {
      if (found.highest) highest = std::max(highest, found.highest->value.si());
      if (found.lowest) lowest = std::min(lowest, found.lowest->value.si());
    }
    for (std::size_t t = 0; t < fault_case.size(); ++t) {
      (void)fault_case.prove_within(t, Goal::Highest, highest + kSlack);
      (void)fault_case.prove_within(t, Goal::Lowest, std::max(0.0, lowest - kSlack));
    }
  });
}

}  // namespace evenleg
