#include "src/audit/worst_first.h"

#include <algorithm>

namespace evenleg {

void prove_worst_first(std::vector<PlaceQuestion>& questions, const LoadLimits& limits,
                       const Progress& progress) {
  struct Job {
    double over = 0;
    std::size_t question = 0;
    std::size_t asked = 0;
  };
  std::vector<Job> jobs;
  for (std::size_t q = 0; q < questions.size(); ++q) {
    if (questions[q].fault_case().settled_by_search()) continue;
    for (std::size_t i = 0; i < questions[q].asked().size(); ++i) {
      jobs.push_back({over_limit(questions[q], i, limits), q, i});
    }
  }
  std::stable_sort(jobs.begin(), jobs.end(),
                   [](const Job& a, const Job& b) { return a.over > b.over; });
  at_once(progress, "proving worst cases, worst first", jobs.size(), [&](std::size_t j) {
    questions[jobs[j].question].fault_case().prove(jobs[j].asked);
  });
  for (PlaceQuestion& question : questions) question.fault_case().finish();
}

}  // namespace evenleg
