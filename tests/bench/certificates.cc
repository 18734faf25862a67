// The volts of every load beyond every open neutral, both ways: by search and certificate with
// nothing enumerated, and by trying every joint state of the house.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <limits>
#include <memory>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "src/audit/worst_case.h"
#include "tests/audit/generated_house.h"
#include "tests/bench/benchmarks.h"
#include "tests/bench/tally.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr std::array kLoads{12, 16, 20, 24};
constexpr double kRounding = 1e-6;  // volts between two ways to the same state

using Answers = std::vector<Extremes<Volts>>;  // place by place, load by load

std::string name_of(int loads, bool certified) {
  return fmt::format("worst-case/{}/{}", loads, certified ? "certified" : "enumerated");
}

WorstCaseOptions options_of(bool certified) {
  WorstCaseOptions options;
  options.enumerate_up_to = certified ? 0 : std::numeric_limits<std::uint64_t>::max();
  options.enumerate_at_most = 0;
  return options;
}

Answers answers_of(const BuiltHouse& house, bool certified) {
  WorstCase worst(house.house, house.model, options_of(certified));
  Answers answers;
  for (const Place& place : house.places) {
    for (Extremes<Volts>& one :
         worst.terminals(NeutralFault{place}, load_terminals_beyond(house.model, place))) {
      answers.push_back(std::move(one));
    }
  }
  return answers;
}

// The certified value is one that is reached, its bound is beyond every one, and where it is proven
// the two are within the 0.01 V that the word stands for. `sign` is -1 for the lowest.
bool agree(const std::optional<Extreme<Volts>>& certified,
           const std::optional<Extreme<Volts>>& enumerated, double sign) {
  if (!certified || !enumerated) return certified.has_value() == enumerated.has_value();
  const double truth = sign * enumerated->value.si();
  const double value = sign * certified->value.si();
  if (value > truth + kRounding || truth > sign * certified->bound.si() + kRounding) return false;
  return !certified->proven || truth - value <= CertifyOptions{}.proven_within;
}

bool agree(const Answers& certified, const Answers& enumerated) {
  if (certified.size() != enumerated.size()) return false;
  for (std::size_t i = 0; i < certified.size(); ++i) {
    if (!agree(certified[i].highest, enumerated[i].highest, 1)) return false;
    if (!agree(certified[i].lowest, enumerated[i].lowest, -1)) return false;
  }
  return true;
}

double joint_states(const BuiltHouse& house) {
  double joint = 1;
  for (const CableStates& cable : credible_states(house.house, house.model).cables) {
    joint *= static_cast<double>(cable.states.size());
  }
  return joint;
}

void measure(benchmark::State& state, const BuiltHouse& house, bool certified) {
  Answers answers;
  for (auto _ : state) answers = answers_of(house, certified);
  Tally tally;
  for (const Extremes<Volts>& one : answers) {
    tally.add(one.highest);
    tally.add(one.lowest);
  }
  tally.count_in(state);
  state.counters["states"] = joint_states(house);
  if (!certified && !agree(answers_of(house, true), answers)) {
    state.SkipWithError("search and certificate contradict enumeration");
  }
}

}  // namespace

void add_certificates(const Tables& tables) {
  for (const int loads : kLoads) {
    const auto house = std::make_shared<const BuiltHouse>(built(generated_house(loads), tables));
    for (const bool certified : {true, false}) {
      add_benchmark(name_of(loads, certified), [house, certified](benchmark::State& state) {
        measure(state, *house, certified);
      });
    }
  }
}

std::string about_certificates(const Results& results) {
  TextTable table({{"house"},
                   {"joint states", Align::Right},
                   {"extremes", Align::Right},
                   {"proven", Align::Right},
                   {"certified CPU ms", Align::Right},
                   {"enumerated CPU ms", Align::Right},
                   {"ratio", Align::Right}});
  std::string sentence;
  for (const int loads : kLoads) {
    const Measured* certified = results.find(name_of(loads, true));
    const Measured* enumerated = results.find(name_of(loads, false));
    if (certified == nullptr || enumerated == nullptr) continue;
    const std::string ratio = figure(enumerated->cpu / certified->cpu);
    table.add(
        {fmt::format("generated, {} loads", loads), fixed(certified->counters.at("states"), 0),
         fixed(certified->counters.at("extremes"), 0), fixed(certified->counters.at("proven"), 0),
         milliseconds(certified->cpu), milliseconds(enumerated->cpu), ratio});
    sentence =
        fmt::format("  {} loads: trying every state takes {} times the CPU time.\n", loads, ratio);
  }
  if (table.empty()) return "";
  return "Worst cases of every load: search and certificate against every joint state\n" +
         table.text() + sentence +
         "  In each row both answers agree: no value beyond the enumerated one, no bound short\n"
         "  of it, each proven value within 0.01 V of it.\n";
}

}  // namespace evenleg
