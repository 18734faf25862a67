#include "src/balance/house_units.h"

#include <algorithm>
#include <map>
#include <numeric>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

class Lister {
 public:
  Lister(const House& house, const Wiring& wiring, const std::vector<CircuitLoads>& loads,
         bool keep_spares, HouseUnits& result)
      : house_(house), wiring_(wiring), loads_(loads), keep_spares_(keep_spares),
        result_(result), why_fixed_(house.circuits.size()) {}

  void run() {
    find_tandems();
    find_fixed();
    make_rooms();
    start_problem();
    std::vector<bool> done(house_.circuits.size(), false);
    for (const Multiwire& multiwire : house_.multiwires) {
      const std::vector<int> circuits = indices(multiwire);
      if (!why_fixed_[at(circuits.front())].empty()) continue;
      for (int c : circuits) done[at(c)] = true;
      add_multiwire(circuits);
    }
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
      if (done[c] || !why_fixed_[c].empty()) continue;
      if (house_.circuits[c].poles == 1) add_single(static_cast<int>(c));
      if (house_.circuits[c].poles == 2) add_pair(static_cast<int>(c));
    }
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
      if (!why_fixed_[c].empty()) {
        result_.fixed.push_back({static_cast<int>(c), why_fixed_[c]});
        draw_fixed(static_cast<int>(c));
      }
    }
    add_buildable();
  }

 private:
  [[nodiscard]] const std::vector<int>& bus(int panel) const {
    return wiring_.panels[at(panel)].legs;
  }
  [[nodiscard]] int panel_of(int circuit) const { return wiring_.circuit_panel[at(circuit)]; }
  // Leg of a pole as a position on its panel's bus.
  [[nodiscard]] int position(int circuit, std::size_t pole) const {
    const std::vector<int>& legs = bus(panel_of(circuit));
    const int leg = wiring_.circuit_legs[at(circuit)][pole];
    return static_cast<int>(std::find(legs.begin(), legs.end(), leg) - legs.begin());
  }
  [[nodiscard]] std::vector<int> indices(const Multiwire& multiwire) const {
    std::vector<int> circuits;
    for (const std::string& name : multiwire.circuits) {
      for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
        if (house_.circuits[c].name == name) circuits.push_back(static_cast<int>(c));
      }
    }
    return circuits;
  }

  void find_tandems() {
    std::map<std::pair<int, int>, std::vector<int>> by_space;
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
      const Circuit& circuit = house_.circuits[c];
      if (circuit.space && circuit.poles == 1) {
        by_space[{panel_of(static_cast<int>(c)), *circuit.space}].push_back(static_cast<int>(c));
      }
    }
    is_half_.assign(house_.circuits.size(), false);
    for (const auto& [place, circuits] : by_space) {
      if (circuits.size() < 2) continue;
      for (int c : circuits) is_half_[at(c)] = true;
    }
  }

  void find_fixed() {
    for (std::size_t i = 0; i < house_.circuits.size(); ++i) {
      const int c = static_cast<int>(i);
      const Circuit& circuit = house_.circuits[i];
      std::string& why = why_fixed_[i];
      if (circuit.locked) {
        why = "locked";
      } else if (!circuit.space) {
        why = "no space is given";
      } else if (bus(panel_of(c)).size() < 2) {
        why = "its panel has one leg";
      } else if (circuit.poles > 2) {
        why = "it uses every leg";
      } else if (!circuit.legs.empty() && !is_half_[i]) {
        why = "it names its legs itself";
      } else if (is_half_[i] && circuit.protection != "standard") {
        why = "half of a tandem breaker with a protection of its own";
      }
    }
    for (const Multiwire& multiwire : house_.multiwires) fix_together(indices(multiwire));
  }

  // Circuits on one neutral move together or not at all.
  void fix_together(const std::vector<int>& circuits) {
    std::string why;
    for (int c : circuits) {
      if (panel_of(c) != panel_of(circuits.front())) why = "its neutral is fed from two panels";
      if (house_.circuits[at(c)].poles > 1) why = "shares a neutral with a circuit of two poles";
      if (is_half_[at(c)]) why = "shares a neutral with half of a tandem breaker";
      if (!why_fixed_[at(c)].empty()) why = "shares a neutral with a circuit that stays";
    }
    if (circuits.size() > bus(panel_of(circuits.front())).size()) {
      why = "more circuits share its neutral than there are legs";
    }
    for (int c : circuits) {
      if (why_fixed_[at(c)].empty()) why_fixed_[at(c)] = why;
    }
  }

  void make_rooms() {
    for (std::size_t p = 0; p < house_.panels.size(); ++p) {
      const int panel = static_cast<int>(p);
      std::vector<bool> open(at(house_.panels[p].spaces), !keep_spares_);
      const auto set = [&](int space, bool value) {
        if (space >= 1 && at(space) <= open.size()) open[at(space - 1)] = value;
      };
      std::vector<TandemHalf> halves;
      for (const bool fixed : {false, true}) {  // what stays closes a space for good
        for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
          const Circuit& circuit = house_.circuits[c];
          const int index = static_cast<int>(c);
          if (panel_of(index) != panel || !circuit.space) continue;
          if (!why_fixed_[c].empty() != fixed) continue;
          for (int pole = 0; pole < circuit.poles; ++pole) {
            set(*circuit.space + 2 * pole, !fixed && !is_half_[c]);
          }
          if (is_half_[c] && !fixed) {
            halves.push_back({*circuit.space, position(index, 0), index});
          }
        }
      }
      for (const TandemHalf& half : halves) set(half.space, false);
      for (std::size_t fed = 1; fed < house_.panels.size(); ++fed) {
        if (wiring_.panels[fed].fed_from != panel) continue;
        for (int space : house_.panels[fed].at_spaces) set(space, false);
      }
      result_.seats.push_back(seats_);
      const int legs = static_cast<int>(std::max<std::size_t>(2, bus(panel).size()));
      result_.rooms.emplace_back(legs, std::move(open), std::move(halves));
      seats_ += result_.rooms.back().seat_sorts();
    }
  }

  void start_problem() {
    SpreadProblem& problem = result_.problem;
    problem.legs = wiring_.system.legs.size();
    problem.scenarios = loads_.size();
    problem.fixed.assign(problem.legs * problem.scenarios, 0.0);
    problem.fixed_seats.assign(seats_, 0);
  }

  [[nodiscard]] const PanelRoom& room(int panel) const { return result_.rooms[at(panel)]; }

  void draw(int circuit, std::size_t pole, int leg, std::vector<double>& amps) const {
    for (std::size_t s = 0; s < loads_.size(); ++s) {
      amps[s * result_.problem.legs + at(leg)] += loads_[s].amps[at(circuit)][pole];
    }
  }
  void draw_fixed(int circuit) {
    for (std::size_t pole = 0; pole < at(house_.circuits[at(circuit)].poles); ++pole) {
      draw(circuit, pole, wiring_.circuit_legs[at(circuit)][pole], result_.problem.fixed);
    }
  }

  [[nodiscard]] bool may_share(int circuit) const {
    return house_.circuits[at(circuit)].protection == "standard";
  }
  [[nodiscard]] std::size_t single_seat(int circuit, int leg) const {
    const int panel = panel_of(circuit);
    return result_.seats[at(panel)] + (may_share(circuit) ? room(panel).shared_seat(leg)
                                                          : room(panel).own_seat(leg));
  }

  // An option that puts each circuit's poles on successive legs from `legs` on.
  UnitOption option(const HouseUnit& unit, const UnitLegs& legs) const {
    const std::vector<int>& on_bus = bus(unit.panel);
    UnitOption made;
    made.amps.assign(result_.problem.legs * result_.problem.scenarios, 0.0);
    made.seats.assign(seats_, 0);
    for (std::size_t i = 0; i < unit.circuits.size(); ++i) {
      const int c = unit.circuits[i];
      if (legs.legs[i] != position(c, 0)) ++made.moves;
      for (std::size_t pole = 0; pole < at(house_.circuits[at(c)].poles); ++pole) {
        const std::size_t leg = (at(legs.legs[i]) + pole) % on_bus.size();
        draw(c, pole, on_bus[leg], made.amps);
      }
      if (!legs.joined && !unit.is_pair) ++made.seats[single_seat(c, legs.legs[i])];
    }
    if (legs.joined || unit.is_pair) {
      const PanelRoom& place = room(unit.panel);
      const std::size_t sort = unit.circuits.size() == 3 ? place.triple_seat()
                                                         : place.pair_seat(start_of(unit, legs));
      ++made.seats[result_.seats[at(unit.panel)] + sort];
    }
    return made;
  }

  [[nodiscard]] int start_of(const HouseUnit& unit, const UnitLegs& legs) const {
    return unit.is_pair ? legs.legs.front() : start_of_block(legs.legs, bus(unit.panel).size());
  }

  void add(HouseUnit unit) {
    SpreadUnit spread;
    for (const UnitLegs& legs : unit.options) spread.options.push_back(option(unit, legs));
    result_.units.push_back(std::move(unit));
    result_.problem.units.push_back(std::move(spread));
  }

  void add_single(int c) {
    HouseUnit unit{panel_of(c), {c}};
    const int own = position(c, 0);
    unit.options.push_back({{own}});
    for (int leg = 0; leg < static_cast<int>(bus(unit.panel).size()); ++leg) {
      if (leg != own) unit.options.push_back({{leg}});
    }
    add(std::move(unit));
  }

  void add_pair(int c) {
    const int panel = panel_of(c);
    const int own = position(c, 0);
    const int legs = static_cast<int>(bus(panel).size());
    if (legs == 2) {
      const bool even = std::all_of(loads_.begin(), loads_.end(), [&](const CircuitLoads& loads) {
        return loads.amps[at(c)][0] == loads.amps[at(c)][1];
      });
      const int start = even ? -1 : own;
      result_.sliding.push_back({panel, c, start});
      ++result_.problem.fixed_seats[result_.seats[at(panel)] + room(panel).pair_seat(start)];
      draw_fixed(c);
      return;
    }
    HouseUnit unit{panel, {c}, true};
    unit.own_space = *house_.circuits[at(c)].space;
    unit.options.push_back({{own}, true});
    for (int leg = 0; leg < legs; ++leg) {
      if (leg != own) unit.options.push_back({{leg}, true});
    }
    add(std::move(unit));
  }

  void add_multiwire(const std::vector<int>& circuits) {
    HouseUnit unit{panel_of(circuits.front()), circuits};
    std::vector<int> spaces;
    std::vector<int> own;
    for (int c : circuits) {
      spaces.push_back(*house_.circuits[at(c)].space);
      own.push_back(position(c, 0));
    }
    std::sort(spaces.begin(), spaces.end());
    unit.joined_as_found = true;
    for (std::size_t i = 1; i < spaces.size(); ++i) {
      unit.joined_as_found = unit.joined_as_found && spaces[i] == spaces[i - 1] + 2;
    }
    if (unit.joined_as_found) unit.own_space = spaces.front();
    const auto distinct = [](std::vector<int> legs) {
      std::sort(legs.begin(), legs.end());
      return std::adjacent_find(legs.begin(), legs.end()) == legs.end();
    };
    if (distinct(own)) unit.options.push_back({own, unit.joined_as_found});
    const int legs = static_cast<int>(bus(unit.panel).size());
    std::vector<int> choice(circuits.size(), 0);
    for (bool more = true; more;) {
      if (choice != own && distinct(choice)) unit.options.push_back({choice, true});
      more = false;
      for (int& leg : choice) {
        if (++leg < legs) {
          more = true;
          break;
        }
        leg = 0;
      }
    }
    add(std::move(unit));
  }

  void add_buildable() {
    HouseUnits* all = &result_;
    result_.problem.buildable = [all](const Seats& seats) {
      for (std::size_t p = 0; p < all->rooms.size(); ++p) {
        if (!all->rooms[p].holds(seats.data() + all->seats[p])) return false;
      }
      return true;
    };
  }

  const House& house_;
  const Wiring& wiring_;
  const std::vector<CircuitLoads>& loads_;
  bool keep_spares_;
  HouseUnits& result_;
  std::vector<std::string> why_fixed_;
  std::vector<bool> is_half_;
  std::size_t seats_ = 0;
};

}  // namespace

void list_units(const House& house, const Wiring& wiring, const std::vector<CircuitLoads>& loads,
                bool keep_spares, HouseUnits& result) {
  Lister(house, wiring, loads, keep_spares, result).run();
}

}  // namespace evenleg
