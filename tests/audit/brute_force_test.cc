// The audit of random houses against every subset of their loads (brute_force.h).
#include "tests/audit/brute_force.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "evenleg/audit/audit.h"
#include "evenleg/base/index.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSameValue = 2e-3;  // volts or amperes between two ways to the same extreme
constexpr double kSameState = 1e-6;  // of the value, between two engines in one state
constexpr double kSameZero = 1e-6;   // volts or amperes, where the value is nothing

double same_state(double value) { return kSameState * std::abs(value) + kSameZero; }

// Of one end of a search: proven, and the value that brute force found.
template <class Quantity>
void check_extreme(const std::optional<Extreme<Quantity>>& extreme, bool exists, double expected) {
  CHECK(extreme.has_value() == exists);
  if (!extreme || !exists) return;
  CHECK(extreme->proven);
  CHECK(close(extreme->value.si(), expected, kSameValue));
}

void check_load(const BuiltHouse& house, const Place& place, const LoadExtremes& found,
                const Range& expected) {
  check_extreme(found.highest, expected.seen(), expected.highest);
  check_extreme(found.lowest, expected.seen(), expected.lowest);
  for (const auto* side : {&found.highest, &found.lowest}) {
    if (!*side) continue;
    const std::vector<bool> on = only(house, (*side)->on);
    CHECK(is_credible(house, on));
    CHECK(on[at(found.load)]);
    const Solution again = solved(house, on, NeutralFault{place});
    const double value = (*side)->value.si();
    CHECK(close(value, std::abs(again.load_volts[at(found.load)]), same_state(value)));
  }
}

void check_outlet(const BuiltHouse& house, const Place& place, const OutletExtremes& found,
                  const EmptyTerminals& expected) {
  CHECK(found.outlet == expected.outlet);
  CHECK(found.legs == expected.legs);
  check_extreme(found.highest, expected.volts.seen(), expected.volts.highest);
  check_extreme(found.lowest, expected.volts.seen(), expected.volts.lowest);
  for (const auto* side : {&found.highest, &found.lowest}) {
    if (!*side) continue;
    const std::vector<bool> on = only(house, (*side)->on);
    CHECK(is_credible(house, on));
    const double value = (*side)->value.si();
    const double again = empty_volts(solved(house, on, NeutralFault{place}), expected);
    CHECK(close(value, again, same_state(value)));
  }
}

void check_as_found(const BuiltHouse& house, const OpenNeutral& found) {
  const std::vector<bool> on = on_as_found(house.model);
  const Solution opened = solved(house, on, NeutralFault{found.place});
  for (const LoadExtremes& load : found.loads) {
    CHECK(load.as_found.has_value() == on[at(load.load)]);
    if (!load.as_found) continue;
    const double value = std::abs(opened.load_volts[at(load.load)]);
    CHECK(close(load.as_found->si(), value, same_state(value)));
  }
}

// A device opens for certain where some credible state goes beyond its volts, and for certain not
// where none does; a state beyond it by less than the tolerance may be missed.
void check_device(const BuiltHouse& house, const OpenNeutral& found, const Range& leg_volts) {
  if (in_cable(found.place)) {
    CHECK(!found.protected_by);
    return;
  }
  const Panel& panel = house.house.panels[at(found.place.panel)];
  const auto& trip = panel.neutral_loss_trip_volts;
  if (!trip || !leg_volts.seen() || std::abs(leg_volts.highest - *trip) < kSameValue) return;
  CAPTURE(*trip);
  CAPTURE(leg_volts.highest);
  CHECK(found.protected_by.has_value() == (leg_volts.highest > *trip));
}

void check_place(const BuiltHouse& house, const OnStates& credible, const OpenNeutral& found) {
  CAPTURE(found.place.name);
  const Beyond expected = brute_force(house, credible, found.place);
  REQUIRE(found.loads.size() == expected.loads.size());
  REQUIRE(found.outlets.size() == expected.empty.size());
  for (std::size_t i = 0; i < found.loads.size(); ++i) {
    REQUIRE(found.loads[i].load == expected.loads[i]);
    CAPTURE(house.house.loads[at(found.loads[i].load)].name);
    check_load(house, found.place, found.loads[i], expected.volts[i]);
  }
  for (std::size_t i = 0; i < found.outlets.size(); ++i) {
    CAPTURE(house.house.outlets[at(found.outlets[i].outlet)].name);
    check_outlet(house, found.place, found.outlets[i], expected.empty[i]);
  }
  check_as_found(house, found);
  check_device(house, found, expected.panel_leg_volts);
}

void check_neutral(const BuiltHouse& house, const OnStates& credible, const Place& place,
                   const NeutralRow& found) {
  CAPTURE(place.name);
  CHECK(found.place == place.name);
  CHECK(found.kind == place.kind);
  Range amps;
  for (const std::vector<bool>& on : credible) {
    amps.take(neutral_amps(solved(house, on, std::nullopt), place));
  }
  check_extreme(found.highest, amps.seen(), amps.highest);
  const double as_found =
      neutral_amps(solved(house, on_as_found(house.model), std::nullopt), place);
  CHECK(close(found.amps.si(), as_found, same_state(as_found)));
  if (!found.highest) return;
  const std::vector<bool> on = only(house, found.highest->on);
  CHECK(is_credible(house, on));
  const double value = found.highest->value.si();
  CHECK(close(value, neutral_amps(solved(house, on, std::nullopt), place), same_state(value)));
}

void check_house(const House& described, const Tables& tables) {
  const BuiltHouse house = built(described, tables);
  const OnStates credible = credible_subsets(house);
  const Audit audited = audit(described, tables);
  REQUIRE(audited.status == SolveStatus::Solved);
  REQUIRE(audited.open_neutral.size() == house.places.size());
  for (std::size_t p = 0; p < house.places.size(); ++p) {
    REQUIRE(audited.open_neutral[p].place == house.places[p]);
    check_place(house, credible, audited.open_neutral[p]);
  }
  const std::vector<Place> neutrals = every_neutral(house);
  REQUIRE(audited.neutrals.size() == neutrals.size());
  for (std::size_t n = 0; n < neutrals.size(); ++n) {
    check_neutral(house, credible, neutrals[n], audited.neutrals[n]);
  }
}

// Five houses of each system; the largest have 2^10 subsets.
constexpr std::uint64_t kFirstSeed = 7000;
constexpr std::uint64_t kHouses = 30;
constexpr int kFewestLoads = 3;
constexpr int kMostLoads = 10;

TEST_CASE("the audit of a random house is what all subsets of its loads give") {
  const Tables tables = load_tables();
  const std::vector<std::string>& systems = every_supply_system();
  for (std::uint64_t i = 0; i < kHouses; ++i) {
    const std::uint64_t seed = kFirstSeed + i;
    CAPTURE(seed);
    RandomHouseOptions options;
    options.system = systems[i % systems.size()];
    options.loads = kFewestLoads + static_cast<int>(i % (kMostLoads - kFewestLoads + 1));
    check_house(random_house(seed, options), tables);
  }
}

// Houses that once gave a wrong answer: neutral amperes left unproven (37, 158), a panel named as
// protecting where its floating neutral feeds nothing (173, 215).
TEST_CASE("the audit of houses that once failed is what all subsets of their loads give") {
  const Tables tables = load_tables();
  const std::vector<std::string>& systems = every_supply_system();
  constexpr std::uint64_t kFirst = 20000;
  for (std::uint64_t i : {37U, 158U, 173U, 215U}) {
    const std::uint64_t seed = kFirst + i;
    CAPTURE(seed);
    RandomHouseOptions options;
    options.system = systems[i % systems.size()];
    options.loads = kFewestLoads + static_cast<int>(i % (kMostLoads - kFewestLoads + 1));
    check_house(random_house(seed, options), tables);
  }
}

// Loads that are alike share one search; each must still be told its own state.
TEST_CASE("the audit of a house with like loads is what all subsets of its loads give") {
  const Tables tables = load_tables();
  constexpr std::uint64_t kSeed = 7100;
  constexpr std::uint64_t kHousesOfTwins = 6;
  for (std::uint64_t seed = kSeed; seed < kSeed + kHousesOfTwins; ++seed) {
    CAPTURE(seed);
    RandomHouseOptions options;
    options.loads = 3;
    options.measured = 0;
    House house = random_house(seed, options);
    const std::vector<Load> once = house.loads;
    for (const char* more : {" again", " once more"}) {
      for (Load load : once) {
        load.name += more;
        house.loads.push_back(load);
      }
    }
    check_house(house, tables);
  }
}

}  // namespace
}  // namespace evenleg
