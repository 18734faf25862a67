// Plans for a 42-space panel in eight scenarios, and the same problems by an external
// mixed-integer solver (COIN-OR cbc) where it is installed: one programme for each number of moves.
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "evenleg/balance/balance.h"
#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "tests/balance/external_solver.h"
#include "tests/balance/random_panel.h"
#include "tests/bench/benchmarks.h"

namespace evenleg {
namespace {

constexpr std::uint32_t kSeeds[] = {31, 32, 33};
constexpr double kSame = 1e-4;  // A, the solver's tolerance

std::string name_of(std::uint32_t seed, bool external) {
  return fmt::format("plans/{}/{}", seed, external ? "cbc" : "evenleg");
}

House panel_of(std::uint32_t seed) {
  RandomPanelOptions options;
  options.spaces = 42;
  options.scenarios = 7;  // beside as found
  options.tandem = 0;     // as external_solver.h asks
  options.joined = 1;
  return random_panel(seed, options);
}

double best_of(const Balance& found, int moves) {
  double best = found.spread_amps;
  for (const BalancePlan& plan : found.plans) {
    if (plan.moves <= moves) best = plan.spread_amps;
  }
  return best;
}

void measure(benchmark::State& state, const House& house, const Tables& tables) {
  Balance found;
  for (auto _ : state) found = balance(house, tables);
  state.counters["moves"] = found.searched_moves;
  state.counters["circuits"] = static_cast<double>(house.circuits.size());
  state.counters["complete"] = found.complete ? 1 : 0;
}

void measure_external(benchmark::State& state, const House& house, const Tables& tables) {
  const Balance found = balance(house, tables);
  for (auto _ : state) {
    for (int moves = 1; moves <= found.searched_moves; ++moves) {
      const std::optional<double> best = solve_with_cbc(as_programme(house, tables, moves));
      if (!best) return state.SkipWithError("cbc is not installed");
      if (std::abs(*best - best_of(found, moves)) > kSame) {
        return state.SkipWithError("plans and the external solver differ");
      }
    }
  }
}

}  // namespace

void add_plans(const Tables& tables) {
  for (const std::uint32_t seed : kSeeds) {
    const auto house = std::make_shared<const House>(panel_of(seed));
    add_benchmark(name_of(seed, false), [house, &tables](benchmark::State& state) {
      measure(state, *house, tables);
    });
    if (!has_cbc()) continue;
    add_benchmark(name_of(seed, true), [house, &tables](benchmark::State& state) {
      measure_external(state, *house, tables);
    });
  }
}

std::string about_plans(const Results& results) {
  TextTable table({{"panel"},
                   {"circuits", Align::Right},
                   {"moves up to", Align::Right},
                   {"all plans ms", Align::Right},
                   {"cbc ms", Align::Right},
                   {"ratio", Align::Right}});
  for (const std::uint32_t seed : kSeeds) {
    const Measured* own = results.find(name_of(seed, false));
    const Measured* other = results.find(name_of(seed, true));
    if (own == nullptr) continue;
    table.add({fmt::format("42 spaces, 8 scenarios, seed {}", seed),
               fixed(own->counters.at("circuits"), 0), fixed(own->counters.at("moves"), 0),
               milliseconds(own->wall), other == nullptr ? "-" : milliseconds(other->wall),
               other == nullptr ? "-" : figure(other->wall / own->wall)});
  }
  if (table.empty()) return "";
  return "Plans that even the legs: all numbers of moves, against cbc for each of them (wall time)\n" +
         table.text() + "  Both give the same spread for every number of moves.\n";
}

}  // namespace evenleg
