#include "tests/network/loads_across.h"

namespace evenleg {

House loads_across(const std::vector<LoadAcross>& loads, const std::string& system) {
  House house;
  house.supply.system = system;
  house.panels.emplace_back();
  house.panels.back().name = "Main";
  house.panels.back().spaces = 40;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const std::string name(1, static_cast<char>('A' + i));
    Circuit circuit;
    circuit.name = "Circuit " + name;
    circuit.legs = {loads[i].leg};
    house.circuits.push_back(circuit);
    Load load;
    load.name = name;
    load.at = circuit.name;
    load.kind = loads[i].kind;
    load.watts = loads[i].watts;
    load.volts = loads[i].volts;
    load.power_factor = 1;
    house.loads.push_back(load);
  }
  return house;
}

BehaviourResult behaviour_of(const House& house, double added_ohms) {
  static const Tables tables = load_tables();
  const BuiltHouse made = built(house, tables);
  return behaviour(made.model, load_behaviours(made.house, made.model, tables),
                   {made.places.front(), added_ohms}, on_as_found(made.model));
}

std::vector<const BalancePoint*> stable_points(const BehaviourResult& result) {
  std::vector<const BalancePoint*> stable;
  for (const BalancePoint& point : result.points) {
    if (point.stable) stable.push_back(&point);
  }
  return stable;
}

}  // namespace evenleg
