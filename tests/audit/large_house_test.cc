// A house too large to enumerate: every worst case proven or closely bounded, and none beaten by hill
// climbing on the sparse engine, which the audit does not use.
#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <vector>

#include "evenleg/base/index.h"
#include "src/audit/worst_case.h"
#include "tests/audit/brute_force.h"
#include "tests/audit/generated_house.h"
#include "tests/network/dice.h"

namespace evenleg {
namespace {

constexpr double kRounding = 1e-6;  // volts between the engines

double volts_of(const BuiltHouse& house, const std::vector<bool>& on, const Place& place,
                int load) {
  return std::abs(solved(house, on, NeutralFault{place}).load_volts[at(load)]);
}

// Loads on in random order as far as they are credible together, `load` among them; nothing where what
// must run leaves no room for it.
std::optional<std::vector<bool>> random_start(const BuiltHouse& house, int load, Dice& dice) {
  std::vector<bool> on(house.house.loads.size());
  for (std::size_t l = 0; l < on.size(); ++l) {
    on[l] = house.house.loads[l].switching == "always on" || static_cast<int>(l) == load;
  }
  if (!is_credible(house, on)) return std::nullopt;
  const double share = dice.between(0, 1);
  std::vector<int> order;
  for (std::size_t l = 0; l < on.size(); ++l) order.push_back(static_cast<int>(l));
  dice.shuffle(order);
  for (int l : order) {
    if (on[at(l)] || !dice.chance(share)) continue;
    on[at(l)] = true;
    if (!is_credible(house, on)) on[at(l)] = false;
  }
  return on;
}

// The highest volts that switching one load after another reaches from a start (the lowest for sign -1).
double climbed(const BuiltHouse& house, const Place& place, int load, std::vector<bool> on,
               double sign) {
  double best = volts_of(house, on, place, load);
  for (bool moved = true; moved;) {
    moved = false;
    for (std::size_t l = 0; l < on.size(); ++l) {
      if (static_cast<int>(l) == load) continue;
      on[l] = !on[l];
      const double now =
          is_credible(house, on) ? volts_of(house, on, place, load) : -sign * 1e9;
      if (sign * now > sign * best) {
        best = now;
        moved = true;
      } else {
        on[l] = !on[l];
      }
    }
  }
  return best;
}

TEST_CASE("120 loads: every worst case is proven, and hill climbing beats none") {
  const BuiltHouse house = built(generated_house(120), load_tables());
  REQUIRE(house.house.loads.size() == 120);
  REQUIRE(house.house.multiwires.size() == 8);
  REQUIRE(house.house.supply.transformer.has_value());
  WorstCase worst(house.house, house.model);
  Dice dice(5);
  int extremes = 0;
  int cables = 0;
  int climbed_from = 0;
  for (const Place& place : house.places) {
    CAPTURE(place.name);
    const std::vector<Terminals> asked = load_terminals_beyond(house.model, place);
    const std::vector<Extremes<Volts>> found = worst.terminals(NeutralFault{place}, asked);
    for (const Extremes<Volts>& e : found) {
      if (!e.highest) continue;  // on in no credible state
      ++extremes;
      CHECK(e.highest->bound.si() - e.highest->value.si() <= 0.1);
      CHECK(e.lowest->value.si() - e.lowest->bound.si() <= 0.1);
    }
    // Beyond a panel everything counts; in a cable little does, and every fourth one will do.
    const int runs = in_cable(place) ? (++cables % 4 == 0 ? 1 : 0) : 3;
    for (int run = 0; run < runs; ++run) {
      const int t = dice.below(static_cast<int>(asked.size()));
      const int load = asked[at(t)].load;
      CAPTURE(house.house.loads[at(load)].name);
      const auto start = random_start(house, load, dice);
      if (!start) continue;
      ++climbed_from;
      const Extremes<Volts>& e = found[at(t)];
      REQUIRE(e.highest.has_value());
      CHECK(climbed(house, place, load, *start, 1) <= e.highest->bound.si() + kRounding);
      CHECK(climbed(house, place, load, *start, -1) >= e.lowest->bound.si() - kRounding);
    }
  }
  CHECK(extremes > 200);
  CHECK(climbed_from >= 8);
}

}  // namespace
}  // namespace evenleg
