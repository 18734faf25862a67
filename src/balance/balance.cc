#include "evenleg/balance/balance.h"

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"
#include "src/balance/house_units.h"

namespace evenleg {
namespace {

constexpr double kSameSpread = 1e-6;  // A: rounding in the order of sums

double largest_spread(const std::vector<LegLoads>& scenarios) {
  double most = 0;
  for (const LegLoads& row : scenarios) most = std::max(most, spread(row.service));
  return most;
}

// What a choice of options asks each panel to seat, and where that goes.
class Planner {
 public:
  Planner(const House& house, const Wiring& wiring, const HouseUnits& units)
      : house_(house), wiring_(wiring), units_(units) {}

  [[nodiscard]] std::vector<CircuitMove> moves(const SpreadChoice& choice) const {
    std::vector<CircuitMove> moved;
    for (std::size_t p = 0; p < units_.rooms.size(); ++p) {
      std::vector<RoomBlock> blocks;
      std::vector<RoomSingle> singles;
      list(static_cast<int>(p), choice, blocks, singles);
      for (const Seated& seat : units_.rooms[p].place(blocks, singles)) {
        const CircuitMove move = move_of(static_cast<int>(p), seat);
        const bool same_place = move.from_space == move.to_space;
        if (!same_place || move.counts()) moved.push_back(move);
      }
    }
    std::stable_sort(moved.begin(), moved.end(), [](const CircuitMove& a, const CircuitMove& b) {
      return a.counts() > b.counts() || (a.counts() == b.counts() && a.circuit < b.circuit);
    });
    return moved;
  }

 private:
  void list(int panel, const SpreadChoice& choice, std::vector<RoomBlock>& blocks,
            std::vector<RoomSingle>& singles) const {
    for (const SlidingPair& pair : units_.sliding) {
      if (pair.panel != panel) continue;
      blocks.push_back({{pair.circuit}, {}, 2, pair.start, *house_.circuits[at(pair.circuit)].space});
    }
    for (std::size_t u = 0; u < units_.units.size(); ++u) {
      const HouseUnit& unit = units_.units[u];
      if (unit.panel != panel) continue;
      const UnitLegs& legs = unit.options[at(choice.options[u])];
      if (unit.is_pair) {
        const bool stays = legs.legs.front() == position(unit.circuits.front());
        blocks.push_back({unit.circuits, {}, 2, legs.legs.front(), stays ? unit.own_space : -1});
      } else if (legs.joined) {
        const int start = start_of_block(legs.legs, wiring_.panels[at(panel)].legs.size());
        const int own = unit.joined_as_found && may_stay(panel, unit, start) ? unit.own_space : -1;
        blocks.push_back({unit.circuits, legs.legs, static_cast<int>(unit.circuits.size()), start,
                          own});
      } else {
        for (std::size_t i = 0; i < unit.circuits.size(); ++i) {
          singles.push_back(single_of(panel, unit.circuits[i], legs.legs[i]));
        }
      }
    }
  }

  // A block that its circuits make up already, whichever of them sits where.
  [[nodiscard]] bool may_stay(int panel, const HouseUnit& unit, int start) const {
    return start < 0 || units_.rooms[at(panel)].leg_of(unit.own_space) == start;
  }

  [[nodiscard]] int position(int circuit) const {
    const std::vector<int>& legs = wiring_.panels[at(wiring_.circuit_panel[at(circuit)])].legs;
    const int leg = wiring_.circuit_legs[at(circuit)].front();
    return static_cast<int>(std::find(legs.begin(), legs.end(), leg) - legs.begin());
  }

  [[nodiscard]] RoomSingle single_of(int panel, int circuit, int leg) const {
    const Circuit& described = house_.circuits[at(circuit)];
    RoomSingle single;
    single.circuit = circuit;
    single.leg = leg;
    single.may_share = described.protection == "standard";
    single.own_space = *described.space;
    single.own_is_half = !described.legs.empty() || shares_space(panel, circuit);
    single.stays = leg == position(circuit);
    return single;
  }

  [[nodiscard]] bool shares_space(int panel, int circuit) const {
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
      if (static_cast<int>(c) == circuit || wiring_.circuit_panel[c] != panel) continue;
      if (house_.circuits[c].poles == 1 && house_.circuits[c].space &&
          house_.circuits[c].space == house_.circuits[at(circuit)].space) {
        return true;
      }
    }
    return false;
  }

  [[nodiscard]] CircuitMove move_of(int panel, const Seated& seat) const {
    const Circuit& circuit = house_.circuits[at(seat.circuit)];
    const std::vector<int>& legs = wiring_.panels[at(panel)].legs;
    CircuitMove move;
    move.circuit = seat.circuit;
    move.panel = panel;
    move.from_space = *circuit.space;
    move.to_space = seat.space;
    for (int leg : wiring_.circuit_legs[at(seat.circuit)]) move.from_legs.push_back(name(leg));
    if (seat.is_half()) {
      move.to_legs.push_back(name(legs[at(seat.half_leg)]));
      // Its own half again: nothing to name anew.
      const bool own = move.from_space == move.to_space && !move.counts();
      move.names_legs = own ? !circuit.legs.empty() : true;
      return move;
    }
    for (int pole = 0; pole < circuit.poles; ++pole) {
      const int row = (seat.space - 1) / 2 + pole;
      move.to_legs.push_back(name(legs[at(row) % legs.size()]));
    }
    return move;
  }

  [[nodiscard]] const std::string& name(int leg) const { return wiring_.system.legs[at(leg)].name; }

  const House& house_;
  const Wiring& wiring_;
  const HouseUnits& units_;
};

}  // namespace

Balance balance(const House& house, const Tables& tables, const BalanceOptions& options) {
  const Vocabulary words = vocabulary(tables);
  const SupplySystem& system = *find_system(words, house.supply.system);
  const Wiring wiring = wire(house, system);
  const std::vector<CircuitLoads> loads = circuit_loads(house, wiring, tables);
  Balance result;
  result.scenarios = leg_loads(house, wiring, loads);
  result.spread_amps = largest_spread(result.scenarios);
  result.measured = measured_circuits(house);
  HouseUnits units;
  list_units(house, wiring, loads, options.keep_spares, units);
  result.fixed = units.fixed;
  const SpreadPlans plans =
      smallest_spreads(units.problem, result.spread_amps, {}, options.progress);
  result.complete = plans.complete;
  result.searched_moves = plans.searched_moves;
  const Planner planner(house, wiring, units);
  for (const SpreadChoice& choice : plans.best) {
    BalancePlan plan;
    plan.moves = choice.moves;
    plan.moved = planner.moves(choice);
    const House planned = with_plan(house, plan);
    plan.scenarios = leg_loads(planned, wire(planned, system), loads);
    plan.spread_amps = largest_spread(plan.scenarios);
    // Worked out anew from the planned house, so that what is called proven is what is printed.
    plan.proven = std::abs(plan.spread_amps - choice.spread) < kSameSpread;
    result.plans.push_back(std::move(plan));
  }
  return result;
}

}  // namespace evenleg
