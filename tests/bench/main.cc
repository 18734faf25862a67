// Measures the audit, the engines, the certificates, the plans and logs, and closes with tables of what was
// measured. Exit status 1 where an answer was wrong: a quick wrong answer is not worth a time.
#include <fmt/format.h>

#include "tests/bench/benchmarks.h"

int main(int argc, char** argv) {
  using namespace evenleg;
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  const Tables tables = load_tables();
  add_audits(tables);
  add_operating_points(tables);
  add_certificates(tables);
  add_plans(tables);
  add_logs();
  Results results;
  benchmark::RunSpecifiedBenchmarks(&results);
  benchmark::Shutdown();
  fmt::print("\n{}\n{}\n{}\n{}\n{}", about_audits(results), about_operating_points(results),
             about_certificates(results), about_plans(results), about_logs(results));
  for (const std::string& failure : results.failures()) fmt::print("\nWRONG  {}\n", failure);
  return results.failures().empty() ? 0 : 1;
}
