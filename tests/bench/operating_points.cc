// The same operating points by three engines: the loads as found, with each neutral open in turn.
//
// ngspice gets them as one process that reads, solves and prints them in turn (four times as quick
// as all in one netlist), and is measured from the process's start to its end, with its files
// written and its print-out taken into memory. The same without the analysis shows what of that is
// starting and reading. Our engines start from the model, in memory.
#include <fmt/format.h>
#include <sys/resource.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/network/solve.h"
#include "tests/audit/generated_house.h"
#include "tests/bench/benchmarks.h"
#include "tests/network/house_states.h"
#include "tests/network/ngspice_netlist.h"

namespace evenleg {
namespace {

constexpr std::array kLoads{30, 120};
constexpr double kAgreement = 1e-6;  // of the source's volts, as in the tests of the engines

struct Points {
  BuiltHouse house;
  std::vector<Complex> admittances;
  std::vector<CircuitElements> circuits;  // by place
};

using Engine = Solution (*)(const Model&, const std::vector<Complex>&,
                            const std::optional<NeutralFault>&);

std::string name_of(int loads, const char* engine) {
  return fmt::format("points/{}/{}", loads, engine);
}

std::shared_ptr<const Points> points_of(int loads, const Tables& tables) {
  auto points = std::make_shared<Points>();
  points->house = built(generated_house(loads), tables);
  const BuiltHouse& house = points->house;
  points->admittances = admittances(house.model, on_as_found(house.model));
  for (const Place& place : house.places) {
    points->circuits.push_back(circuit_elements(house.house, house.wiring, tables,
                                                points->admittances, NeutralFault{place}));
  }
  return points;
}

// Volts across the loads that are on, place by place.
using LoadVolts = std::vector<std::vector<Complex>>;

LoadVolts by_engine(const Points& points, Engine engine) {
  LoadVolts volts;
  for (const Place& place : points.house.places) {
    volts.push_back(engine(points.house.model, points.admittances, NeutralFault{place}).load_volts);
  }
  return volts;
}

LoadVolts by_ngspice(const Points& points, std::string output) {
  const SpiceAnswer answer = read_ngspice(points.circuits, std::move(output));
  LoadVolts volts;
  for (std::size_t c = 0; c < points.circuits.size(); ++c) {
    const auto potential = [&](int node) {
      return answer.volts[c][static_cast<std::size_t>(node)].value_or(Complex(NAN, NAN));
    };
    volts.emplace_back();
    for (const LoadElement& load : points.circuits[c].loads) {
      const bool on = load.siemens != Complex{};
      volts.back().push_back(on ? potential(load.from) - potential(load.to) : Complex{});
    }
  }
  return volts;
}

// Fails the benchmark unless the volts are those of the collapsed engine.
void check(benchmark::State& state, const Points& points, const LoadVolts& volts) {
  const LoadVolts expected = by_engine(points, solve);
  double worst = 0;
  bool all = true;
  for (std::size_t c = 0; c < expected.size(); ++c) {
    for (std::size_t l = 0; l < expected[c].size(); ++l) {
      if (points.admittances[l] == Complex{}) continue;
      const double off = std::abs(volts[c][l] - expected[c][l]);
      all = all && std::isfinite(off);
      worst = std::max(worst, off);
    }
  }
  if (!all || worst > kAgreement * std::abs(points.house.model.source.front())) {
    state.SkipWithError(all ? "its volts are not those of the collapsed engine"
                            : "it has no volts for some load");
  }
  state.counters["points"] = static_cast<double>(points.circuits.size());
  state.counters["off_volts"] = worst;
}

void measure_engine(benchmark::State& state, const Points& points, Engine engine) {
  LoadVolts volts;
  for (auto _ : state) volts = by_engine(points, engine);
  check(state, points, volts);
}

double children_cpu() {
  constexpr double kMicro = 1e-6;
  rusage used{};
  getrusage(RUSAGE_CHILDREN, &used);
  return static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
         kMicro * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

void measure_ngspice(benchmark::State& state, const Points& points, bool analysis) {
  const std::vector<SpiceFile> files = netlists_in_turn(points.circuits, analysis);
  const double before = children_cpu();
  std::string output;
  for (auto _ : state) output = run_ngspice(files);
  state.counters["ngspice_cpu"] =
      (children_cpu() - before) / static_cast<double>(state.iterations());
  if (analysis) check(state, points, by_ngspice(points, std::move(output)));
}

struct Row {
  const char* what;
  double wall;
  double cpu;
};

std::vector<Row> rows_of(int loads, const Results& results) {
  std::vector<Row> rows;
  const auto add = [&](const char* name, const char* what) {
    const Measured* m = results.find(name_of(loads, name));
    if (m == nullptr) return;
    const auto child = m->counters.find("ngspice_cpu");
    rows.push_back({what, m->wall, child == m->counters.end() ? m->cpu : child->second});
  };
  add("collapsed", "collapsed engine");
  add("sparse", "sparse engine");
  add("ngspice", "ngspice, its process");
  add("ngspice-reads", "ngspice, netlist read only");
  return rows;
}

std::string about_ngspice(int loads, const Results& results) {
  const Measured* collapsed = results.find(name_of(loads, "collapsed"));
  const Measured* ngspice = results.find(name_of(loads, "ngspice"));
  const Measured* reading = results.find(name_of(loads, "ngspice-reads"));
  if (collapsed == nullptr || ngspice == nullptr || reading == nullptr) return "";
  const double all = ngspice->counters.at("ngspice_cpu");
  const double start = reading->counters.at("ngspice_cpu");
  return fmt::format(
      "  {} loads: one ngspice process takes {} times the collapsed engine's CPU time,\n"
      "  without its start and reading {} times. Load volts agree to 1 in a million.\n",
      loads, figure(all / collapsed->cpu), figure((all - start) / collapsed->cpu));
}

}  // namespace

void add_operating_points(const Tables& tables) {
  const bool ngspice = has_ngspice();
  for (const int loads : kLoads) {
    const auto points = points_of(loads, tables);
    const auto add = [&](const char* name, auto measure) {
      add_benchmark(name_of(loads, name),
                    [points, measure](benchmark::State& state) { measure(state, *points); });
    };
    add("collapsed", [](auto& state, const Points& p) { measure_engine(state, p, solve); });
    add("sparse", [](auto& state, const Points& p) { measure_engine(state, p, solve_sparse); });
    if (!ngspice) continue;
    add("ngspice", [](auto& state, const Points& p) { measure_ngspice(state, p, true); });
    add("ngspice-reads", [](auto& state, const Points& p) { measure_ngspice(state, p, false); });
  }
}

std::string about_operating_points(const Results& results) {
  TextTable table({{"house"},
                   {"points", Align::Right},
                   {"by"},
                   {"wall ms", Align::Right},
                   {"CPU ms", Align::Right},
                   {"CPU, collapsed = 1", Align::Right}});
  std::string ratios;
  for (const int loads : kLoads) {
    const Measured* collapsed = results.find(name_of(loads, "collapsed"));
    if (collapsed == nullptr) continue;
    for (const Row& row : rows_of(loads, results)) {
      table.add({fmt::format("generated, {} loads", loads),
                 fixed(collapsed->counters.at("points"), 0), row.what, milliseconds(row.wall),
                 milliseconds(row.cpu), figure(row.cpu / collapsed->cpu)});
    }
    ratios += about_ngspice(loads, results);
  }
  if (table.empty()) return "";
  if (ratios.empty()) ratios = "  No ratio to ngspice: not on the path, filtered out, or wrong.\n";
  return "Operating points: the loads as found, each neutral open in turn\n" + table.text() +
         ratios;
}

}  // namespace evenleg
