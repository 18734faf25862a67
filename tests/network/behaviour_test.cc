// Closed forms of loads in series across an open neutral, each worked beside its check. E = 240 V.
#include "evenleg/network/behaviour.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/check.h"
#include "tests/network/loads_across.h"

namespace evenleg {
namespace {

constexpr double kWithin = 1e-6;  // volts

double volts_of(const BalancePoint& point, std::size_t load) {
  return point.loads[load].volts.si();
}

// V1 / V2 = R1 / R2 = P2 / P1: 240 * 50 / 150 = 80 and 160.
TEST_CASE("behaviour: two resistances have one point, and it is stable") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "heating", 100}, {"L2", "plain", 50}}));
  REQUIRE(result.points.size() == 1);
  CHECK(result.points[0].stable);
  CHECK(close(volts_of(result.points[0], 0), 80, kWithin));
  CHECK(close(volts_of(result.points[0], 1), 160, kWithin));
}

// P1 / V1 = P2 / V2, so V1 = 240 * 100 / 180 = 133.33 and V2 = 106.67: f' = -P/V² on both sides, so
// it does not hold.
TEST_CASE("behaviour: two electronic loads have one point with both running, unstable") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 100}, {"L2", "television", 80}}));
  int running = 0;
  for (const BalancePoint& point : result.points) {
    if (point.loads[0].status != LoadStatus::Running) continue;
    if (point.loads[1].status != LoadStatus::Running) continue;
    ++running;
    CHECK_FALSE(point.stable);
    CHECK(close(volts_of(point, 0), 240.0 * 100 / 180, kWithin));
    CHECK(close(volts_of(point, 1), 240.0 * 80 / 180, kWithin));
  }
  CHECK(running == 1);
  CHECK_FALSE(any_stable(result));
}

// P = 100 W against R = 120²/144 = 100 ohm: V1² - 240 V1 + 10000 = 0 over the supply, V1 = 120 ±
// sqrt(14400 - 10000) = 186.332 and 53.668. There it would be locked out below 72 V: one point with
// it running, and the other is no point of a supply that runs. Past its limit of 1.40 * 120 = 168
// V.
TEST_CASE("behaviour: constant power against a resistance, the upper point") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 100}, {"L2", "plain", 144}}));
  int running = 0;
  for (const BalancePoint& point : result.points) {
    if (point.loads[0].status != LoadStatus::Running) continue;
    ++running;
    CHECK(point.stable);
    CHECK(close(volts_of(point, 0), 120 + std::sqrt(4400.0), kWithin));
    CHECK(point.loads[0].past_failing);
  }
  CHECK(running == 1);
}

// R = 100 ohm again, P = 140 W: V1 = 120 ± sqrt(14400 - 14000) = 140 and 100, both above 72 V. The
// lower one: f1' = -140/100² = -0.014, f2' = 0.01, in sum negative; upper -140/140² + 0.01 =
// 0.00286.
TEST_CASE("behaviour: constant power against a resistance, both points") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 140}, {"L2", "plain", 144}}));
  std::vector<double> seen;
  for (const BalancePoint& point : result.points) {
    if (point.loads[0].status != LoadStatus::Running) continue;
    seen.push_back(volts_of(point, 0));
    CHECK(point.stable == (seen.back() > 120));
  }
  REQUIRE(seen.size() == 2);
  CHECK(close(seen[0], 140, kWithin));
  CHECK(close(seen[1], 100, kWithin));
}

// A pair in one cell of the scan: P = 143.99 W, V1 = 120 ± sqrt(14400 - 14399) = 121 and 119.
TEST_CASE("behaviour: two points that lie close together are both found") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 143.99}, {"L2", "plain", 144}}));
  std::vector<double> seen;
  for (const BalancePoint& point : result.points) {
    if (point.loads[0].status == LoadStatus::Running) seen.push_back(volts_of(point, 0));
  }
  REQUIRE(seen.size() == 2);
  CHECK(close(seen[0], 121, kWithin));
  CHECK(close(seen[1], 119, kWithin));
}

// P > E²/4R = 57600/400 = 144 W: no point with the supply running.
TEST_CASE("behaviour: constant power beyond what the resistance lets through has no point") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 150}, {"L2", "plain", 144}}));
  for (const BalancePoint& point : result.points) {
    CHECK(point.loads[0].status != LoadStatus::Running);
  }
}

// At 120 V a supply of 1500 W contributes -1500/14400 = -0.10417 S. Against a constant current of
// as many amperes, which contributes nothing, d = 0 is a point that holds while 1/Rn is more: below
// 9.6 ohm. Against its like, -0.20833 S in sum, below 4.8 ohm.
TEST_CASE("behaviour: a degraded neutral holds below its limit and not above") {
  const House against_current =
      loads_across({{"L1", "television", 1500}, {"L2", "ev charger", 1500}});
  const House pair = loads_across({{"L1", "television", 1500}, {"L2", "television", 1500}});
  struct Row {
    const House& house;
    double ohms;
    bool holds;
  };
  for (const Row& row : {Row{against_current, 9.55, true}, Row{against_current, 9.65, false},
                         Row{pair, 4.75, true}, Row{pair, 4.85, false}}) {
    CAPTURE(row.ohms);
    bool found = false;
    for (const BalancePoint& point : behaviour_of(row.house, row.ohms).points) {
      if (std::abs(point.displacement.si()) > 1e-6) continue;
      found = true;
      CHECK(point.stable == row.holds);
    }
    CHECK(found);
  }
}

// 1500 W alone behind Rn: V² - 120 V + 1500 Rn = 0, V = 60 ± sqrt(3600 - 1500 Rn). With Rn = 0.8
// ohm V = 60 + sqrt(2400) = 108.990; stable, since f' = -1500/V² = -0.126 against 1/Rn = 1.25.
TEST_CASE("behaviour: a supply alone behind a degraded neutral") {
  const BehaviourResult result = behaviour_of(loads_across({{"L1", "television", 1500}}), 0.8);
  const auto stable = stable_points(result);
  REQUIRE(stable.size() == 1);
  CHECK(close(volts_of(*stable[0], 0), 60 + std::sqrt(2400.0), kWithin));
}

// 100 W and 50 W lamps: (V1/V2)^0.55 = 1/2, V1/V2 = 0.5^(1/0.55) = 0.283579, V1 = 240 * 0.283579 /
// 1.283579 = 53.0228 V.
TEST_CASE("behaviour: two lamps part the volts further than resistances would") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "incandescent", 100}, {"L2", "incandescent", 50}}));
  REQUIRE(result.points.size() == 1);
  CHECK(result.points[0].stable);
  CHECK(close(volts_of(result.points[0], 0), 53.0228, 1e-3));
}

// A surge strip beside 50 W of resistance against 100 W: without it 160 V (above). It draws some
// milliamperes there: I = 1.46e-6 (160/120)^30 = 0.00817 A, in parallel 0.667 A; it is told as
// conducting and the volts are a little less.
TEST_CASE("behaviour: a varistor conducts and lowers the volts a little") {
  const BehaviourResult result = behaviour_of(
      loads_across({{"L1", "plain", 100}, {"L2", "plain", 50}, {"L2", "surge strip", 1}}));
  REQUIRE(result.points.size() == 1);
  const BalancePoint& point = result.points[0];
  CHECK(point.stable);
  CHECK(point.loads[2].conducting);
  const double v = volts_of(point, 2);
  CHECK(v < 160);
  CHECK(v > 155);
  // Kirchhoff at the floating point, by hand: I1 = 100/14400 V1 etc.
  const double left =
      100.0 / 14400 * (240 - v) - 50.0 / 14400 * v - 1.46e-6 * std::pow(v / 120, 30);
  CHECK(close(left, 0, 1e-8));
}

// On a wye, equal loads stay at the middle by symmetry. Constant power P answers a radial push with
// -P/V² and a sideways one with +P/V²; over three axes at 120 degrees both cancel, and what is left
// is the resistances': A = 3 G, positive, so that it holds however small they are.
TEST_CASE("behaviour: a wye of equal loads has its middle point") {
  const BehaviourResult result = behaviour_of(loads_across({{"L1", "television", 200},
                                                            {"L2", "television", 200},
                                                            {"L3", "television", 200},
                                                            {"L1", "plain", 100},
                                                            {"L2", "plain", 100},
                                                            {"L3", "plain", 100}},
                                                           "120/208 wye"));
  int middle = 0;
  for (const BalancePoint& point : result.points) {
    if (std::abs(point.displacement.si()) > 1e-6) continue;
    ++middle;
    CHECK(point.stable);
  }
  CHECK(middle == 1);
}

// Two legs of that wye with constant impedances of 100 W and 50 W: 208 V in the ratio 1 to 2, 69.28
// and 138.56 V (120 sqrt 3 / 3 and twice that).
TEST_CASE("behaviour: two legs of a wye") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "plain", 100}, {"L2", "heating", 50}}, "120/208 wye"));
  REQUIRE(result.points.size() == 1);
  CHECK(close(volts_of(result.points[0], 0), 120 / std::sqrt(3.0), kWithin));
  CHECK(close(volts_of(result.points[0], 1), 240 / std::sqrt(3.0), kWithin));
}

TEST_CASE("behaviour: no load on is said, and computes nothing") {
  House house = loads_across({{"L1", "television", 100}, {"L2", "television", 80}});
  for (Load& load : house.loads) load.on = false;
  const BehaviourResult result = behaviour_of(house);
  CHECK_FALSE(result.connected);
  CHECK(result.points.empty());
  CHECK(result.cascade.empty());
}

// On one leg alone: nothing returns, every load is at 0 V, so the supplies lock out and it floats.
TEST_CASE("behaviour: loads on one leg only are dead") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 100}, {"L1", "television", 80}}));
  CHECK_FALSE(any_stable(result));
  REQUIRE(!result.cascade.empty());
  CHECK(result.cascade.back().end == CascadeEnd::Floats);
  for (const BehavingLoad& load : result.cascade.back().loads) {
    CHECK(load.status == LoadStatus::LockedOut);
    CHECK(std::isnan(load.volts.si()));
  }
}

}  // namespace
}  // namespace evenleg
