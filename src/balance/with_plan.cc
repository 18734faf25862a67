// A plan's circuits in their new places, and the loads that name legs with them.
#include <algorithm>
#include <map>

#include "evenleg/balance/balance.h"

namespace evenleg {
namespace {

// By name of a leg that is left, the one that is come to.
using LegNames = std::map<std::string, std::string>;

// "L1-N" with each leg's name replaced; a name that does not move stays.
std::string renamed(const std::string& connect, const LegNames& legs) {
  const std::size_t dash = connect.find('-');
  const auto end = [&](const std::string& name) {
    const auto moved = legs.find(name);
    return moved == legs.end() ? name : moved->second;
  };
  if (dash == std::string::npos) return connect;
  return end(connect.substr(0, dash)) + "-" + end(connect.substr(dash + 1));
}

// What a load's legs become: its own circuit's first, then those of the multiwire that it is on. A
// circuit and a multiwire may have one name.
LegNames legs_for(const House& planned, const Load& load,
                  const std::map<std::string, LegNames>& of_circuit) {
  std::string on = load.at;
  bool at_outlet = false;
  for (const Outlet& outlet : planned.outlets) {
    if (outlet.name != load.at) continue;
    on = outlet.on;
    at_outlet = true;
  }
  LegNames legs;
  const auto add = [&](const std::string& circuit) {
    const auto moved = of_circuit.find(circuit);
    if (moved != of_circuit.end()) legs.insert(moved->second.begin(), moved->second.end());
  };
  add(load.circuit.value_or(on));
  if (!at_outlet) return legs;
  for (const Multiwire& multiwire : planned.multiwires) {
    if (multiwire.name != on) continue;
    for (const std::string& circuit : multiwire.circuits) add(circuit);
  }
  return legs;
}

}  // namespace

House with_plan(const House& house, const BalancePlan& plan) {
  House planned = house;
  std::map<std::string, LegNames> of_circuit;
  for (const CircuitMove& move : plan.moved) {
    Circuit& circuit = planned.circuits[static_cast<std::size_t>(move.circuit)];
    circuit.space = move.to_space;
    circuit.legs = move.names_legs ? move.to_legs : std::vector<std::string>{};
    for (std::size_t pole = 0; pole < move.from_legs.size(); ++pole) {
      of_circuit[circuit.name][move.from_legs[pole]] = move.to_legs[pole];
    }
  }
  for (Load& load : planned.loads) {
    if (load.connect) load.connect = renamed(*load.connect, legs_for(planned, load, of_circuit));
  }
  return planned;
}

}  // namespace evenleg
