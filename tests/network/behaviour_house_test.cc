// Random houses: with constant impedances the behaviour is the reference's; with laws every point
// answers to the reference engine given the admittances that the laws ask for at its volts.
#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/network/behaviour.h"
#include "evenleg/network/solve.h"
#include "tests/check.h"
#include "tests/network/house_states.h"

namespace evenleg {
namespace {

constexpr double kWithin = 1e-9 * 240;  // volts

TEST_CASE("behaviour: constant impedances give the reference's answer on random houses") {
  const Tables tables = load_tables();
  constexpr std::uint64_t kHouses = 120;
  RandomHouseOptions options;
  options.loads = 12;
  int compared = 0;
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    const House house = random_house(seed, options);
    const BuiltHouse made = built(house, tables);
    std::vector<LoadBehaviour> laws = load_behaviours(made.house, made.model, tables);
    for (LoadBehaviour& law : laws) law.law = {};
    const std::vector<bool> on = on_as_found(made.model);
    for (const Place& place : made.places) {
      for (const double added : {kOpen, 0.7}) {
        CAPTURE(place.name);
        CAPTURE(added);
        const NeutralFault fault{place, added};
        const BehaviourResult result = behaviour(made.model, laws, fault, on);
        const Solution reference = solve(made.model, admittances(made.model, on), fault);
        if (!result.connected) continue;
        REQUIRE(result.points.size() == 1);
        CHECK(result.points[0].stable);
        CHECK(result.cascade.size() == 1);
        for (const BehavingLoad& seen : result.points[0].loads) {
          const auto l = static_cast<std::size_t>(seen.load);
          CHECK(close(seen.volts.si(), std::abs(reference.load_volts[l]), kWithin));
          ++compared;
        }
        for (std::size_t i = 0; i < result.points[0].loads.size(); ++i) {
          CHECK(close(result.cascade[0].loads[i].volts.si(), result.points[0].loads[i].volts.si(),
                      kWithin));
        }
      }
    }
  }
  CHECK(compared > 1000);
}

TEST_CASE("behaviour: every point solves the house with the admittances of its laws") {
  const Tables tables = load_tables();
  const char* kinds[] = {"television",     "incandescent",      "refrigerator", "microwave",
                         "laptop charger", "induction cooktop", "plain",        "fan"};
  constexpr std::uint64_t kHouses = 40;
  constexpr double kPolished = 1e-6;  // volts: root and secant both converge well within
  int compared = 0, stable = 0;
  for (std::uint64_t seed = 0; seed < kHouses; ++seed) {
    CAPTURE(seed);
    House house = random_house(seed);
    for (std::size_t l = 0; l < house.loads.size(); ++l) {
      if (!house.loads[l].ohms) house.loads[l].kind = kinds[(l + seed) % 8];
    }
    const BuiltHouse made = built(house, tables);
    const std::vector<LoadBehaviour> laws = load_behaviours(made.house, made.model, tables);
    const std::vector<bool> on = on_as_found(made.model);
    for (const Place& place : made.places) {
      CAPTURE(place.name);
      const NeutralFault fault{place};
      for (const BalancePoint& point : behaviour(made.model, laws, fault, on).points) {
        std::vector<Complex> y = admittances(made.model, on);
        for (const BehavingLoad& seen : point.loads) {
          const auto l = static_cast<std::size_t>(seen.load);
          y[l] = secant_admittance(laws[l], seen.volts.si(), seen.status);
          CHECK(is_consistent(laws[l], seen.volts.si(), seen.status, 1e-9));
        }
        const Solution reference = solve(made.model, y, fault);
        for (const BehavingLoad& seen : point.loads) {
          const auto l = static_cast<std::size_t>(seen.load);
          CHECK(close(seen.volts.si(), std::abs(reference.load_volts[l]), kPolished));
          ++compared;
        }
        stable += point.stable ? 1 : 0;
      }
    }
  }
  CHECK(compared > 200);
  CHECK(stable > 20);
}

}  // namespace
}  // namespace evenleg
