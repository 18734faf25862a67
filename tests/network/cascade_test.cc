// The course of failures, each step by a sum beside it.
#include <doctest/doctest.h>

#include <cmath>

#include "evenleg/network/behaviour.h"
#include "tests/check.h"
#include "tests/network/loads_across.h"

namespace evenleg {
namespace {

// The neutral runs to the heavier side, whose supply locks out; it then sees all of 240 V and
// returns, the other locks out: by turns, with 240 V on either, above 1.40 * 120 V. The first in
// the house's order fails open, then the other one is alone: nothing returns, it locks out and the
// neutral floats.
TEST_CASE("cascade: two electronic loads run away, cycle, fail") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 100}, {"L2", "television", 50}}));
  REQUIRE(result.cascade.size() == 2);
  const CascadeStep& first = result.cascade[0];
  CHECK(first.ran_away);
  CHECK(first.end == CascadeEnd::Cycles);
  CHECK(close(first.loads[0].volts.si(), 240, 1e-6));
  CHECK(close(first.loads[1].volts.si(), 240, 1e-6));
  const CascadeStep& second = result.cascade[1];
  CHECK(second.cause == CascadeCause::Failed);
  CHECK(second.load == 0);
  CHECK(second.end == CascadeEnd::Floats);
}

// 150 W against 144 W of resistance, no point: it locks out. Nothing draws then on L1, so the
// heater has 0 V and the supply 240 V: it returns, and so on; it fails, and the heater stays dead.
TEST_CASE("cascade: a supply beyond the resistance's power locks out and returns until it fails") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "television", 150}, {"L2", "plain", 144}}));
  REQUIRE(result.cascade.size() == 2);
  const CascadeStep& first = result.cascade[0];
  REQUIRE(!first.changes.empty());
  CHECK(first.changes[0].load == 0);
  CHECK(first.changes[0].to == LoadStatus::LockedOut);
  CHECK(first.end == CascadeEnd::Cycles);
  CHECK(first.loads[0].past_failing);
  CHECK(result.cascade[1].load == 0);
  CHECK(result.cascade[1].end == CascadeEnd::Rests);
  CHECK(close(result.cascade[1].loads[1].volts.si(), 0, 1e-9));
}

// A 1000 W heater on L1 against a lamp of 100 W and 60 W of resistance on L2. With R1 = 14.4 ohm
// the lamp sees more than 1.9 * 120 = 228 V only when little else is on: 14.4 * I, I = 100/120
// (v)^0.55 + ... at v = 1.9: 0.8333 * 1.4234 + 0.5 * 1.9 = 2.136 A, drop 30.8 V, 209 V: it lasts.
// With 5000 W, 2.88 ohm, drop at 1.9: 6.15 V, so 233.8 > 228: it opens. Then the 60 W alone: R2 =
// 240 ohm, 240 * 240 / 242.88 = 237.154 V, more than before.
TEST_CASE("cascade: a lamp opens and the others then see more") {
  const BehaviourResult result = behaviour_of(
      loads_across({{"L1", "plain", 5000}, {"L2", "incandescent", 100}, {"L2", "plain", 60}}));
  REQUIRE(result.cascade.size() == 2);
  const double before = result.cascade[0].loads[2].volts.si();
  CHECK(result.cascade[0].end == CascadeEnd::Rests);
  CHECK(before > 228);
  CHECK(result.cascade[1].cause == CascadeCause::Failed);
  CHECK(result.cascade[1].load == 1);
  CHECK(close(result.cascade[1].loads[2].volts.si(), 240.0 * 240 / 242.88, 1e-6));
  CHECK(result.cascade[1].loads[2].volts.si() > before);
  CHECK(behaviour_of(
            loads_across({{"L1", "plain", 1000}, {"L2", "incandescent", 100}, {"L2", "plain", 60}}))
            .cascade.size() == 1);
}

// A compressor of 600 W on L1 against 150 W on L2: by impedances V1 = 240 * 150/750 = 48 V, below
// 0.55 * 120 = 66 V: it stalls, 2.4 + j2.4 ohm (24 ohm per unit) against R2 = 96 ohm: V1 = 240 *
// 3.394 / |98.4 + j2.4| = 8.276 V, V2 = 240 * 96 / 98.429 = 234.08 V. Its overload opens; nothing
// is fed.
TEST_CASE("cascade: a compressor stalls, then its overload opens") {
  const BehaviourResult result =
      behaviour_of(loads_across({{"L1", "refrigerator", 600}, {"L2", "plain", 150}}));
  REQUIRE(result.cascade.size() == 2);
  const CascadeStep& first = result.cascade[0];
  CHECK(first.loads[0].status == LoadStatus::Stalled);
  CHECK(close(first.loads[0].volts.si(), 240 * std::sqrt(2) * 2.4 / std::hypot(98.4, 2.4), 1e-6));
  CHECK(close(first.loads[1].volts.si(), 240 * 96 / std::hypot(98.4, 2.4), 1e-6));
  CHECK(result.cascade[1].cause == CascadeCause::Tripped);
  CHECK(close(result.cascade[1].loads[1].volts.si(), 0, 1e-9));
}

}  // namespace
}  // namespace evenleg
