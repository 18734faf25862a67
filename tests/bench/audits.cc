// audit() alone: nothing read, nothing printed.
#include <fmt/format.h>

#include <array>
#include <stdexcept>

#include "evenleg/audit/audit.h"
#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/describe/describe.h"
#include "evenleg/house/validate.h"
#include "src/tables/embedded.h"
#include "tests/audit/generated_house.h"
#include "tests/bench/benchmarks.h"
#include "tests/bench/tally.h"

namespace evenleg {
namespace {

constexpr std::array kLoads{30, 120, 480, 1920};
constexpr int kMostLoadsWithProof = 480;  // the next size takes minutes even without
const std::string kFernhill = "fernhill-cottage";

House demonstration_house(const Tables& tables) {
  const std::string file = kFernhill + ".toml";
  for (const EmbeddedFile& embedded : embedded_files()) {
    if (embedded.name == file) return read_description(embedded.text, file, vocabulary(tables));
  }
  throw std::logic_error(file + " is not built in");
}

std::string name_of(const std::string& house, bool proof) {
  return "audit/" + house + (proof ? "/proof" : "/no-proof");
}

void measure(benchmark::State& state, const House& house, const Tables& tables, bool proof) {
  if (!validate(house, vocabulary(tables)).empty()) {
    state.SkipWithError("the house is not valid");
    return;
  }
  AuditOptions options;
  options.certify = proof;
  Audit result;
  for (auto _ : state) result = audit(house, tables, options);
  if (result.status != SolveStatus::Solved) state.SkipWithError("the house has no solution");
  Tally tally;
  for (const NeutralRow& row : result.neutrals) tally.add(row.highest);
  for (const OpenNeutral& open : result.open_neutral) {
    for (const LoadExtremes& load : open.loads) {
      tally.add(load.highest);
      tally.add(load.lowest);
    }
    for (const OutletExtremes& outlet : open.outlets) {
      tally.add(outlet.highest);
      tally.add(outlet.lowest);
    }
  }
  tally.count_in(state);
}

void add(const std::string& name, const House& house, const Tables& tables, bool proof) {
  add_benchmark(name_of(name, proof), [house, &tables, proof](benchmark::State& state) {
    measure(state, house, tables, proof);
  });
}

struct Sized {
  int loads = 0;
  double cpu = 0;
};

std::vector<std::string> row(const std::string& house, bool proof, const Measured& m,
                             const std::string& growth) {
  return {house,
          proof ? "with" : "without",
          milliseconds(m.wall),
          milliseconds(m.cpu),
          fixed(m.counters.at("extremes"), 0),
          proof ? fixed(m.counters.at("proven"), 0) : "-",
          growth};
}

// The rows of the generated houses; gives the sizes that were measured.
std::vector<Sized> add_generated(const Results& results, bool proof, TextTable& table) {
  std::vector<Sized> sizes;
  for (const int loads : kLoads) {
    const Measured* m = results.find(name_of(std::to_string(loads), proof));
    if (m == nullptr) continue;
    std::string growth = "-";
    if (!sizes.empty()) {
      growth = fixed(growth_exponent(sizes.back().loads, sizes.back().cpu, loads, m->cpu), 2);
    }
    table.add(row(fmt::format("generated, {} loads", loads), proof, *m, growth));
    sizes.push_back({loads, m->cpu});
  }
  return sizes;
}

std::string about_growth(const std::vector<Sized>& sizes, const char* proof) {
  if (sizes.size() < 2) return "";
  const Sized& first = sizes.front();
  const Sized& last = sizes.back();
  return fmt::format("  From {} to {} loads, {} proof, CPU time grows as loads^{}.\n", first.loads,
                     last.loads, proof,
                     fixed(growth_exponent(first.loads, first.cpu, last.loads, last.cpu), 2));
}

}  // namespace

void add_audits(const Tables& tables) {
  const House fernhill = demonstration_house(tables);
  for (const bool proof : {false, true}) {
    add(kFernhill, fernhill, tables, proof);
    for (const int loads : kLoads) {
      if (proof && loads > kMostLoadsWithProof) continue;
      add(std::to_string(loads), generated_house(loads), tables, proof);
    }
  }
}

std::string about_audits(const Results& results) {
  TextTable table({{"house"},
                   {"proof"},
                   {"wall ms", Align::Right},
                   {"CPU ms", Align::Right},
                   {"extremes", Align::Right},
                   {"proven", Align::Right},
                   {"growth", Align::Right}});
  std::string sentences;
  for (const bool proof : {false, true}) {
    const Measured* fernhill = results.find(name_of(kFernhill, proof));
    if (fernhill != nullptr) table.add(row("Fernhill Cottage", proof, *fernhill, "-"));
    const std::vector<Sized> sizes = add_generated(results, proof, table);
    sentences += about_growth(sizes, proof ? "with" : "without");
  }
  if (table.empty()) return "";
  if (results.find(name_of(std::to_string(kLoads.back()), false)) == nullptr) {
    sentences += fmt::format("  {} loads without proof takes minutes and was left out.\n",
                             kLoads.back());
  }
  return fmt::format(
      "Audits\n{}"
      "  One audit() in memory, by a thread for each processor where it searches. Growth: the n\n"
      "  of loads^n from the row above, by CPU time.\n{}"
      "  {} loads with proof is not run. How real loads behave is left out of an audit where more\n"
      "  than 150 loads beyond a neutral follow a law, or more than 800 run at all, so that the\n"
      "  largest house does less.\n",
      table.text(), sentences, kLoads.back());
}

}  // namespace evenleg
