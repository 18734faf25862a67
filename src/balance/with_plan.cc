// A plan's circuits in their new places, and the loads that name legs with them.
#include <algorithm>
#include <map>

#include "evenleg/balance/balance.h"

namespace evenleg {
namespace {

// "L1-N" with each leg's name replaced; a name that does not move stays.
std::string renamed(const std::string& connect, const std::map<std::string, std::string>& legs) {
  const std::size_t dash = connect.find('-');
  const auto end = [&](const std::string& name) {
    const auto moved = legs.find(name);
    return moved == legs.end() ? name : moved->second;
  };
  if (dash == std::string::npos) return connect;
  return end(connect.substr(0, dash)) + "-" + end(connect.substr(dash + 1));
}

}  // namespace

House with_plan(const House& house, const BalancePlan& plan) {
  House planned = house;
  // By circuit: the legs that its poles leave, and those that they come to.
  std::map<std::string, std::map<std::string, std::string>> legs_of;
  for (const CircuitMove& move : plan.moved) {
    Circuit& circuit = planned.circuits[static_cast<std::size_t>(move.circuit)];
    circuit.space = move.to_space;
    circuit.legs = move.names_legs ? move.to_legs : std::vector<std::string>{};
    for (std::size_t pole = 0; pole < move.from_legs.size(); ++pole) {
      legs_of[circuit.name][move.from_legs[pole]] = move.to_legs[pole];
    }
  }
  // On a multiwire the legs of all its circuits count.
  for (const Multiwire& multiwire : planned.multiwires) {
    for (const std::string& circuit : multiwire.circuits) {
      const auto moved = legs_of.find(circuit);
      if (moved == legs_of.end()) continue;
      legs_of[multiwire.name].insert(moved->second.begin(), moved->second.end());
    }
  }
  for (Load& load : planned.loads) {
    if (!load.connect) continue;
    std::string on = load.at;
    for (const Outlet& outlet : planned.outlets) {
      if (outlet.name == load.at) on = outlet.on;
    }
    const auto moved = legs_of.find(on);
    if (moved != legs_of.end()) load.connect = renamed(*load.connect, moved->second);
  }
  return planned;
}

}  // namespace evenleg
