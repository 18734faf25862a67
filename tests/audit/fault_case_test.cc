// One fault asked again: what is known of an extreme never gets less.
#include "src/audit/fault_case.h"

#include <doctest/doctest.h>

#include "evenleg/tables/tables.h"
#include "src/audit/worst_case.h"
#include "tests/network/house_states.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

// Proofs cut short, so that bounds stay open and a later one may be worse than the one before.
WorstCaseOptions cut_short(int tests) {
  WorstCaseOptions options;
  options.enumerate_up_to = 0;
  options.enumerate_at_most = 0;
  options.certificate.most_tests = tests;
  options.certificate.enumerate_up_to = 1;
  return options;
}

TEST_CASE("a limit asked about after a proof loosens no bound and takes no value back") {
  const Tables tables = load_tables();
  constexpr std::uint64_t kHouses = 40;
  constexpr double kSame = 1e-9;  // volts
  int open = 0;
  for (std::uint64_t seed = 1; seed <= kHouses; ++seed) {
    CAPTURE(seed);
    RandomHouseOptions random;
    random.loads = 16;
    const BuiltHouse house = built(random_house(seed, random), tables);
    const WorstCase worst(house.house, house.model, cut_short(40));
    for (const Place& place : house.places) {
      const auto asked =
          worst.fault_case(NeutralFault{place}, load_terminals_beyond(house.model, place));
      asked->search();
      for (std::size_t t = 0; t < asked->size(); ++t) {
        CAPTURE(t);
        asked->prove(t);
        const std::optional<Extreme<Volts>> before = asked->extremes()[t].highest;
        if (!before || before->proven) continue;
        ++open;
        for (const double share : {0.01, 0.5}) {
          const double limit =
              before->value.si() + share * (before->bound - before->value).si();
          const bool within = asked->prove_within(t, Goal::Highest, limit);
          const Extreme<Volts>& after = *asked->extremes()[t].highest;
          CHECK(after.bound.si() <= before->bound.si() + kSame);
          CHECK(after.value.si() >= before->value.si() - kSame);
          if (within) CHECK(after.bound.si() <= limit + kSame);
        }
      }
    }
  }
  CHECK(open > 0);
}

}  // namespace
}  // namespace evenleg
