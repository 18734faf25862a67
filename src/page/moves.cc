#include "src/page/moves.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "evenleg/balance/balance.h"
#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/house/wiring.h"

namespace evenleg {
namespace {

[[noreturn]] void refuse(const std::string& circuit, std::string what, std::string remedy) {
  throw Error(ErrorKind::Request,
              {fmt::format("circuit \"{}\"", circuit), std::move(what), std::move(remedy)});
}

std::vector<int> spaces_from(int first, int poles) {
  std::vector<int> spaces;
  for (int pole = 0; pole < poles; ++pole) spaces.push_back(first + 2 * pole);
  return spaces;
}

// Where circuits come to: their first spaces, and what else of them changes.
struct NewPlace {
  int space = 0;
  std::string panel;
  std::vector<std::string> legs;
};
using NewPlaces = std::map<std::size_t, NewPlace>;  // by circuit

// Drops on a house as the drops before left it.
class Dropping {
 public:
  Dropping(const House& house, const Vocabulary& words) : house_(house), words_(words) {}

  // Each where it is said to go, whatever sits there.
  [[nodiscard]] House put_down(const std::vector<Drop>& drops) const {
    NewPlaces to;
    for (const Drop& drop : drops) {
      const std::size_t c = index_of(drop.circuit);
      const std::string panel = drop.panel.value_or(panel_of(house_.circuits[c]));
      require_spaces(drop, panel, spaces_from(drop.space, house_.circuits[c].poles));
      to[c] = {drop.space, panel, drop.legs};
    }
    return with_places(to);
  }

  // What sits there changes places with it.
  [[nodiscard]] House exchanged(const Drop& drop) const {
    const std::size_t c = index_of(drop.circuit);
    const Circuit& moved = house_.circuits[c];
    const std::string panel = drop.panel.value_or(panel_of(moved));
    const std::vector<int> target = spaces_from(drop.space, moved.poles);
    require_spaces(drop, panel, target);
    NewPlaces to{{c, {drop.space, panel, drop.legs}}};
    std::vector<std::size_t> held = held_in(panel, target);
    std::erase(held, c);
    if (!held.empty()) exchange(drop, c, panel, held, to);
    return with_places(to);
  }

 private:
  [[nodiscard]] std::size_t index_of(const std::string& name) const {
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
      if (house_.circuits[c].name == name) return c;
    }
    refuse(name, "there is no such circuit", "name one of the house's circuits");
  }

  [[nodiscard]] std::string panel_of(const Circuit& circuit) const {
    return circuit.panel.value_or(house_.panels.empty() ? "" : house_.panels.front().name);
  }

  void require_spaces(const Drop& drop, const std::string& panel,
                      const std::vector<int>& target) const {
    const auto found = std::find_if(house_.panels.begin(), house_.panels.end(),
                                    [&](const Panel& one) { return one.name == panel; });
    if (found == house_.panels.end()) {
      refuse(drop.circuit, fmt::format("there is no panel \"{}\"", panel), "name a panel");
    }
    if (target.front() < 1 || target.back() > found->spaces) {
      refuse(drop.circuit,
             fmt::format("from space {} it would reach beyond the {} spaces of \"{}\"", drop.space,
                         found->spaces, panel),
             "choose another space");
    }
    for (const Panel& fed : house_.panels) {
      if (fed.fed_from != panel) continue;
      for (int space : fed.at_spaces) {
        if (std::count(target.begin(), target.end(), space) == 0) continue;
        refuse(drop.circuit, fmt::format("the feeder of \"{}\" sits in space {}", fed.name, space),
               "choose another space");
      }
    }
  }

  // Circuits with a pole in one of these spaces of the panel.
  [[nodiscard]] std::vector<std::size_t> held_in(const std::string& panel,
                                                 const std::vector<int>& spaces) const {
    std::vector<std::size_t> held;
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) {
      const Circuit& circuit = house_.circuits[c];
      if (!circuit.space || panel_of(circuit) != panel) continue;
      const std::vector<int> own = spaces_from(*circuit.space, circuit.poles);
      const bool there = std::any_of(own.begin(), own.end(), [&](int space) {
        return std::count(spaces.begin(), spaces.end(), space) > 0;
      });
      if (there) held.push_back(c);
    }
    return held;
  }

  // What sits in the target goes into the spaces that become free.
  void exchange(const Drop& drop, std::size_t c, const std::string& panel,
                const std::vector<std::size_t>& held, NewPlaces& to) const {
    const Circuit& moved = house_.circuits[c];
    if (!moved.space) {
      refuse(drop.circuit,
             fmt::format("space {} is taken by \"{}\"", drop.space,
                         house_.circuits[held.front()].name),
             "choose a free space");
    }
    if (panel_of(moved) != panel) {
      refuse(drop.circuit, "an exchange between two panels is no single step",
             "choose a free space there first");
    }
    const std::vector<int> old = spaces_from(*moved.space, moved.poles);
    const std::vector<int> target = spaces_from(drop.space, moved.poles);
    std::vector<int> freed;
    for (int space : old) {
      if (std::count(target.begin(), target.end(), space) == 0) freed.push_back(space);
    }
    require_whole(drop, held, target);
    for (const std::size_t other : held) {
      const Circuit& circuit = house_.circuits[other];
      to[other] = {
          place_in(freed, drop, circuit, *moved.space + *circuit.space - drop.space), panel, {}};
    }
    std::vector<std::size_t> beside = held_in(panel, old);
    for (const std::size_t other : held) std::erase(beside, other);
    std::erase(beside, c);
    if (!beside.empty()) {
      refuse(drop.circuit, "it is half of a tandem breaker, and nothing else would fit there",
             "choose a free space");
    }
  }

  // Each of them sits in the target with all of its poles, and alone.
  void require_whole(const Drop& drop, const std::vector<std::size_t>& held,
                     const std::vector<int>& target) const {
    std::set<int> taken;
    for (const std::size_t c : held) {
      const Circuit& other = house_.circuits[c];
      for (int space : spaces_from(*other.space, other.poles)) {
        const bool inside = std::count(target.begin(), target.end(), space) > 0;
        if (inside && taken.insert(space).second) continue;
        refuse(drop.circuit,
               inside ? fmt::format("two circuits share space {}", space)
                      : fmt::format("\"{}\" takes {} spaces and would not fit where this one is",
                                    other.name, other.poles),
               "choose another space");
      }
    }
  }

  // The first space of `other` among the freed ones, `same_place` where that is free.
  [[nodiscard]] int place_in(std::vector<int>& freed, const Drop& drop, const Circuit& other,
                             int same_place) const {
    const auto fits = [&](int first) {
      const std::vector<int> spaces = spaces_from(first, other.poles);
      return std::all_of(spaces.begin(), spaces.end(), [&](int space) {
        return std::count(freed.begin(), freed.end(), space) > 0;
      });
    };
    int first = same_place;
    if (!fits(first)) {
      const auto found = std::find_if(freed.begin(), freed.end(), fits);
      if (found == freed.end()) {
        refuse(drop.circuit, fmt::format("\"{}\" would not fit into what becomes free", other.name),
               "choose another space");
      }
      first = *found;
    }
    for (int space : spaces_from(first, other.poles)) std::erase(freed, space);
    return first;
  }

  [[nodiscard]] std::vector<std::string> legs_at(const House& house, std::size_t c) const {
    std::vector<std::string> names;
    const SupplySystem* system = find_system(words_, house.supply.system);
    if (system == nullptr) return names;
    const std::vector<WiredPanel> panels = wire_panels(house, *system);
    for (std::size_t p = 0; p < panels.size(); ++p) {
      if (house.panels[p].name != panel_of(house.circuits[c])) continue;
      for (int leg : legs_of_circuit(house.circuits[c], panels[p], *system)) {
        names.push_back(system->legs[at(leg)].name);
      }
    }
    return names;
  }

  // All of them in one plan, so that a load's legs are renamed once, from where they were.
  [[nodiscard]] House with_places(const NewPlaces& to) const {
    House placed = house_;
    for (const auto& [c, place] : to) {
      Circuit& circuit = placed.circuits[c];
      circuit.space = place.space;
      circuit.legs = place.legs;
      if (place.panel != panel_of(house_.circuits[c])) circuit.panel = place.panel;
    }
    BalancePlan plan;
    for (const auto& [c, place] : to) {
      CircuitMove move;
      move.circuit = static_cast<int>(c);
      move.to_space = place.space;
      move.names_legs = !place.legs.empty();
      move.from_legs = legs_at(house_, c);
      move.to_legs = legs_at(placed, c);
      if (move.from_legs.size() != move.to_legs.size()) move.from_legs.clear();  // not known before
      plan.moved.push_back(std::move(move));
    }
    House made = with_plan(house_, plan);
    for (const auto& [c, place] : to) made.circuits[c].panel = placed.circuits[c].panel;
    return made;
  }

  const House& house_;
  const Vocabulary& words_;
};

}  // namespace

House with_drops(const House& house, const std::vector<Drop>& drops, const Vocabulary& words) {
  House made = house;
  for (std::size_t i = 0; i < drops.size();) {
    std::vector<Drop> together{drops[i++]};
    while (together.front().at_once && i < drops.size() && drops[i].at_once) {
      together.push_back(drops[i++]);
    }
    const Dropping dropping(made, words);
    made = together.front().at_once ? dropping.put_down(together) : dropping.exchanged(together[0]);
  }
  return made;
}

std::vector<Drop> fewest_drops(const House& before, const House& after,
                               const std::vector<Drop>& drops) {
  const std::string first = before.panels.empty() ? "" : before.panels.front().name;
  std::vector<Drop> fewest;
  for (std::size_t c = 0; c < after.circuits.size(); ++c) {
    const Circuit& is = after.circuits[c];
    const std::string panel = is.panel.value_or(first);
    const bool same_panel = panel == before.circuits[c].panel.value_or(first);
    if (!is.space || (same_panel && is.space == before.circuits[c].space)) continue;
    Drop drop{is.name, *is.space, {}, {}, true};
    if (!same_panel) drop.panel = panel;
    for (const Drop& one : drops) {
      const bool there = one.panel.value_or(panel) == panel && one.space == *is.space;
      if (one.circuit == is.name && there) drop.legs = one.legs;
    }
    fewest.push_back(std::move(drop));
  }
  return fewest;
}

std::vector<std::string> drop_notes(const House& before, const House& after,
                                    const Vocabulary& words) {
  std::vector<std::string> notes;
  for (std::size_t c = 0; c < after.circuits.size(); ++c) {
    const Circuit& circuit = after.circuits[c];
    if (!circuit.locked || circuit.space == before.circuits[c].space) continue;
    notes.push_back(
        fmt::format("\"{}\" is marked as locked: no plan of the program moves it.", circuit.name));
  }
  const SupplySystem* system = find_system(words, after.supply.system);
  if (system == nullptr) return notes;
  const Wiring wiring = wire(after, *system);
  for (const Cable& cable : wiring.cables) {
    if (cable.multiwire < 0) continue;
    std::set<int> legs;
    for (const Hot& hot : cable.hots) legs.insert(hot.leg);
    if (legs.size() == cable.hots.size()) continue;
    notes.push_back(
        fmt::format("\"{}\": two of its hots would be on one leg, and its shared neutral would "
                    "carry their sum.",
                    after.multiwires[at(cable.multiwire)].name));
  }
  return notes;
}

}  // namespace evenleg
