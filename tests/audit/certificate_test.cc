// The search and its certificates alone, with nothing enumerated, against every subset of the loads
// of random houses (brute_force.h).
#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>

#include "evenleg/base/index.h"
#include "src/audit/worst_case.h"
#include "tests/audit/brute_force.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSameValue = 2e-3;  // volts or amperes between two ways to the same extreme
constexpr double kRounding = 1e-6;   // volts or amperes

// The value is reached, so it is never beyond the truth; the truth is never beyond the bound.
template <class Quantity>
void check_highest(const std::optional<Extreme<Quantity>>& found, const Range& truth) {
  CHECK(found.has_value() == truth.seen());
  if (!found || !truth.seen()) return;
  CAPTURE(truth.highest);
  CAPTURE(found->value.si());
  CAPTURE(found->bound.si());
  CAPTURE(found->proven);
  CHECK(found->value.si() <= truth.highest + kRounding);
  CHECK(truth.highest <= found->bound.si() + (found->proven ? kSameValue : kRounding));
  if (found->proven) CHECK(close(found->value.si(), truth.highest, kSameValue));
}

template <class Quantity>
void check_lowest(const std::optional<Extreme<Quantity>>& found, const Range& truth) {
  CHECK(found.has_value() == truth.seen());
  if (!found || !truth.seen()) return;
  CAPTURE(truth.lowest);
  CAPTURE(found->value.si());
  CAPTURE(found->bound.si());
  CAPTURE(found->proven);
  CHECK(found->value.si() >= truth.lowest - kRounding);
  CHECK(truth.lowest >= found->bound.si() - (found->proven ? kSameValue : kRounding));
  if (found->proven) CHECK(close(found->value.si(), truth.lowest, kSameValue));
}

// How many extremes there were, and how many of them were proven.
struct Tally {
  int all = 0;
  int proven = 0;

  template <class Quantity>
  void add(const std::optional<Extreme<Quantity>>& extreme) {
    if (!extreme) return;
    ++all;
    if (extreme->proven) ++proven;
  }
};

void check_place(const BuiltHouse& house, const OnStates& credible, const Place& place,
                 WorstCase& worst, Tally& tally) {
  CAPTURE(place.name);
  const Beyond truth = brute_force(house, credible, place);
  std::vector<Terminals> asked;
  for (int l : truth.loads) {
    const LoadModel& load = house.model.loads[at(l)];
    asked.push_back({load.cable, load.box, load.from, load.to, l});
  }
  for (const EmptyTerminals& empty : truth.empty) {
    asked.push_back({empty.cable, empty.box, empty.hot, kNeutral, -1});
  }
  const std::vector<Extremes<Volts>> found = worst.terminals(NeutralFault{place}, asked);
  REQUIRE(found.size() == asked.size());
  for (std::size_t t = 0; t < found.size(); ++t) {
    const bool is_load = t < truth.loads.size();
    const EmptyTerminals* empty = is_load ? nullptr : &truth.empty[t - truth.loads.size()];
    const std::string what = is_load ? house.house.loads[at(truth.loads[t])].name
                                     : house.house.outlets[at(empty->outlet)].name;
    CAPTURE(what);
    const Range& range = is_load ? truth.volts[t] : empty->volts;
    check_highest(found[t].highest, range);
    check_lowest(found[t].lowest, range);
    tally.add(found[t].highest);
    tally.add(found[t].lowest);
  }
}

constexpr std::uint64_t kFirstSeed = 7200;
constexpr std::uint64_t kHouses = 24;
constexpr int kLoads = 7;
constexpr int kMostTests = 3000;  // of one certificate: the time of this test

TEST_CASE("search and certificate: never beyond the truth, and the truth never beyond the bound") {
  const Tables tables = load_tables();
  const std::vector<std::string>& systems = every_supply_system();
  Tally tally;
  for (std::uint64_t i = 0; i < kHouses; ++i) {
    const std::uint64_t seed = kFirstSeed + i;
    CAPTURE(seed);
    RandomHouseOptions options;
    options.system = systems[i % systems.size()];
    options.loads = kLoads;
    const BuiltHouse house = built(random_house(seed, options), tables);
    const OnStates credible = credible_subsets(house);
    WorstCaseOptions by_search;
    by_search.enumerate_up_to = 0;
    by_search.enumerate_at_most = 0;
    by_search.certificate.enumerate_up_to = 0;
    by_search.certificate.most_tests = kMostTests;
    WorstCase worst(house.house, house.model, by_search);
    for (const Place& place : house.places) check_place(house, credible, place, worst, tally);
  }
  // Certificates that prove nothing would pass all of the above.
  MESSAGE(tally.proven << " of " << tally.all << " extremes proven");
  CHECK(tally.all > 100);
  CHECK(tally.proven > tally.all * 9 / 10);
}

}  // namespace
}  // namespace evenleg
