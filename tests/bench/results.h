// What each benchmark took, by its name, for the tables that close a run.
//
// Seconds of one run of what is measured. CPU time is that of the whole process with its threads,
// without child processes; it is what ratios and growth are taken from, since wall time grows with
// whatever else the machine does.
#pragma once

#include <benchmark/benchmark.h>

#include <functional>
#include <map>
#include <string>
#include <vector>

namespace evenleg {

struct Measured {
  double wall = 0;
  double cpu = 0;
  std::map<std::string, double> counters;
};

// Prints each benchmark as it ends and keeps it.
class Results : public benchmark::ConsoleReporter {
 public:
  Results() : ConsoleReporter(OO_None) {}
  void ReportRuns(const std::vector<Run>& runs) override;

  // nullptr: not run, or failed.
  [[nodiscard]] const Measured* find(const std::string& name) const;
  // "NAME: what went wrong", of each benchmark whose answers were wrong.
  [[nodiscard]] const std::vector<std::string>& failures() const { return failures_; }

 private:
  std::map<std::string, Measured> measured_;
  std::vector<std::string> failures_;
};

// Adds `run` as a benchmark timed by wall and process CPU time.
void add_benchmark(const std::string& name, std::function<void(benchmark::State&)> run);

// n such that y grows as x^n between two points: the slope in log-log paper.
[[nodiscard]] double growth_exponent(double x1, double y1, double x2, double y2);

// Seconds as milliseconds, three digits.
[[nodiscard]] std::string milliseconds(double seconds);

}  // namespace evenleg
