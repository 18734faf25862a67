// One neutral in depth on random houses against every subset of their loads, each state solved by
// the sparse engine, which the search does not use.
#include "evenleg/audit/neutral.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/error.h"
#include "evenleg/base/index.h"
#include "evenleg/describe/describe.h"
#include "src/audit/neutral_limit.h"
#include "tests/audit/brute_force.h"
#include "tests/audit/described_audit.h"
#include "tests/check.h"

namespace evenleg {
namespace {

constexpr double kSameValue = 2e-3;  // volts between two ways to the same extreme
constexpr double kSameHeat = 1e-4;   // per unit of watts, amperes squared by two engines

std::string kind_and_name(const Place& place) {
  switch (place.kind) {
    case PlaceKind::Service:
      return "service";
    case PlaceKind::Feeder:
      return "feeder " + place.name;
    case PlaceKind::SharedRun:
      return "multiwire " + place.name;
    case PlaceKind::SharedLength:
      return "outlet " + place.name;
  }
  return "";
}

// The furthest that some load goes past its limit in some credible state: volts over limit.
double furthest_past(const BuiltHouse& house, const OnStates& credible, const NeutralFault& fault,
                     const std::vector<int>& loads, const LoadLimits& limits) {
  double over = 0;
  for (const std::vector<bool>& on : credible) {
    const Solution solution = solved(house, on, fault);
    for (int load : loads) {
      if (!on[at(load)]) continue;
      over = std::max(over, std::abs(solution.load_volts[at(load)]) / *limits[at(load)]);
    }
  }
  return over;
}

void check_point(const BuiltHouse& house, const OnStates& credible, const Place& place,
                 const NeutralPoint& point) {
  CAPTURE(point.added.si());
  const NeutralFault fault{place, point.added.si()};
  std::vector<Range> volts(house.house.loads.size());
  Range amps;
  for (const std::vector<bool>& on : credible) {
    const Solution solution = solved(house, on, fault);
    amps.take(neutral_amps(solution, place));
    for (std::size_t l = 0; l < volts.size(); ++l) {
      if (on[l]) volts[l].take(std::abs(solution.load_volts[l]));
    }
  }
  for (const LoadExtremes& load : point.loads) {
    const Range& expected = volts[at(load.load)];
    REQUIRE(load.highest.has_value() == expected.seen());
    if (!expected.seen()) continue;
    CHECK(load.highest->proven);
    CHECK(load.lowest->proven);
    CHECK(close(load.highest->value.si(), expected.highest, kSameValue));
    CHECK(close(load.lowest->value.si(), expected.lowest, kSameValue));
  }
  if (point.highest_heat) {
    const double heat = point.added.si() * amps.highest * amps.highest;
    CHECK(point.highest_heat->proven);
    CHECK(close(point.highest_heat->value.si(), heat, kSameHeat * heat + 1e-9));
  }
  const Solution as_found = solved(house, on_as_found(house.model), fault);
  const double through = neutral_amps(as_found, place);
  CHECK(close(point.amps.si(), through, 1e-6 * through + 1e-6));
}

void check_limit(const BuiltHouse& house, const OnStates& credible, const NeutralDepth& depth,
                 const LoadLimits& limits) {
  std::vector<int> loads;
  for (const LoadExtremes& load : depth.curve.front().loads) loads.push_back(load.load);
  const auto past = [&](double ohms) {
    return furthest_past(house, credible, {depth.place, ohms}, loads, limits);
  };
  if (!depth.high) {
    for (const NeutralPoint& point : depth.curve) CHECK(past(point.added.si()) <= 1 + 1e-6);
    return;
  }
  CHECK(depth.high->proven);
  const double ohms = depth.high->ohms.si();
  CAPTURE(ohms);
  if (ohms == 0) {
    CHECK(past(0) > 1);
    return;
  }
  CHECK(close(past(ohms), 1, 1e-6));
  for (const double share : {0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99}) {
    CHECK(past(share * ohms) <= 1 + 1e-9);
  }
  const std::vector<bool> on = only(house, depth.high->on);
  CHECK(is_credible(house, on));
  const Solution there = solved(house, on, NeutralFault{depth.place, ohms});
  CHECK(close(std::abs(there.load_volts[at(depth.high->load)]), depth.high->volts.si(), 1e-5));
  CHECK(depth.high->volts.si() == *limits[at(depth.high->load)]);
}

TEST_CASE("random houses: limits and curve and heat are those of all states") {
  const Tables tables = load_tables();
  constexpr std::uint64_t kHouses = 12;
  int limited = 0;
  for (std::uint64_t seed = 1; seed <= kHouses; ++seed) {
    CAPTURE(seed);
    RandomHouseOptions options;
    options.loads = 6;
    const BuiltHouse house = built(random_house(seed, options), tables);
    const OnStates credible = credible_subsets(house);
    const LoadLimits limits = high_limits(house.house, house.model, tables);
    const Audit audited = audit(house.house, tables);
    for (std::size_t p = 0; p < house.places.size(); ++p) {
      const Place& place = house.places[p];
      CAPTURE(place.name);
      const NeutralDepth depth = neutral_in_depth(house.house, tables, kind_and_name(place));
      REQUIRE(depth.place == place);
      check_limit(house, credible, depth, limits);
      for (const NeutralPoint& point : depth.curve) check_point(house, credible, place, point);
      limited += depth.high ? 1 : 0;
      // The audit starts from the open neutral alone.
      const auto& in_audit = audited.open_neutral[p].limit;
      CHECK(in_audit.has_value() == depth.high.has_value());
      if (in_audit && depth.high) {
        CHECK(close(in_audit->ohms.si(), depth.high->ohms.si(), 1e-6 * depth.high->ohms.si()));
      }
    }
  }
  CHECK(limited > 0);
}

TEST_CASE("a place that the house does not have is refused with those that it has") {
  const DescribedAudit one = audit_of(R"(
[house]
name = "One panel"
[supply]
system = "120/240 split-phase"
[[panel]]
name = "Main"
spaces = 4
)");
  try {
    (void)neutral_in_depth(one.house, load_tables(), "Kitchen");
    FAIL("a neutral was made up");
  } catch (const Error& error) {
    CHECK(std::string(error.what()).find("\"Kitchen\"") != std::string::npos);
    CHECK(std::string(error.what()).find("service") != std::string::npos);
  }
}

}  // namespace
}  // namespace evenleg
