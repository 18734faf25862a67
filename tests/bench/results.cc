#include "tests/bench/results.h"

#include <cmath>
#include <utility>

#include "evenleg/base/format.h"

namespace evenleg {

void Results::ReportRuns(const std::vector<Run>& runs) {
  for (const Run& run : runs) {
    const std::string& name = run.run_name.function_name;
    if (run.error_occurred) {
      failures_.push_back(name + ": " + run.error_message);
      continue;
    }
    Measured measured;
    measured.wall = run.real_accumulated_time / static_cast<double>(run.iterations);
    measured.cpu = run.cpu_accumulated_time / static_cast<double>(run.iterations);
    for (const auto& [counter, value] : run.counters) measured.counters[counter] = value;
    measured_[name] = std::move(measured);
  }
  ConsoleReporter::ReportRuns(runs);
}

const Measured* Results::find(const std::string& name) const {
  const auto found = measured_.find(name);
  return found == measured_.end() ? nullptr : &found->second;
}

void add_benchmark(const std::string& name, std::function<void(benchmark::State&)> run) {
  benchmark::RegisterBenchmark(name.c_str(), std::move(run))
      ->Unit(benchmark::kMillisecond)
      ->MeasureProcessCPUTime()
      ->UseRealTime();
}

double growth_exponent(double x1, double y1, double x2, double y2) {
  return std::log(y2 / y1) / std::log(x2 / x1);
}

std::string milliseconds(double seconds) {
  constexpr double kMilli = 1000;
  return figure(kMilli * seconds);
}

}  // namespace evenleg
