#include "src/edit/remove_uses.h"

#include <algorithm>
#include <optional>
#include <vector>

namespace evenleg {
namespace {

void remove_load(House& house, const std::string& name) {
  for (Scenario& scenario : house.scenarios) {
    std::erase(scenario.on, name);
    scenario.share.erase(name);
  }
}

// Loads that `chosen` picks, with their places in scenarios.
template <class Chosen>
void remove_loads(House& house, const Chosen& chosen) {
  const std::vector<Load> loads = house.loads;
  for (const Load& load : loads) {
    if (chosen(load)) remove_load(house, load.name);
  }
  const auto read = [&](const std::string& load) {
    return std::any_of(house.readings.begin(), house.readings.end(), [&](const Reading& reading) {
      return std::find(reading.on.begin(), reading.on.end(), load) != reading.on.end();
    });
  };
  std::erase_if(house.loads, [&](const Load& load) { return chosen(load) && !read(load.name); });
}

// What follows an outlet follows the one before it once it is gone.
std::optional<std::string> outlet_before(const House& house, const Outlet& outlet) {
  if (outlet.after) return outlet.after;
  std::optional<std::string> before;
  for (const Outlet& other : house.outlets) {
    if (other.name == outlet.name) break;
    if (other.on == outlet.on) before = other.name;
  }
  return before;
}

void remove_outlet(House& house, const std::string& name) {
  remove_loads(house, [&](const Load& load) { return load.at == name; });
  const auto found = std::find_if(house.outlets.begin(), house.outlets.end(),
                                  [&](const Outlet& outlet) { return outlet.name == name; });
  if (found == house.outlets.end()) return;
  const auto before = outlet_before(house, *found);
  for (Outlet& outlet : house.outlets) {
    if (outlet.after == name) outlet.after = before;
  }
}

void remove_outlets_on(House& house, const std::string& cable) {
  std::vector<std::string> names;
  for (const Outlet& outlet : house.outlets) {
    if (outlet.on == cable) names.push_back(outlet.name);
  }
  for (const std::string& name : names) remove_outlet(house, name);
  // One that a reading or a load still names stays, and says so when the removal is judged.
  std::erase_if(house.outlets, [&](const Outlet& outlet) {
    const bool read = std::any_of(house.readings.begin(), house.readings.end(),
                                  [&](const Reading& one) { return one.at == outlet.name; });
    const bool loaded = std::any_of(house.loads.begin(), house.loads.end(),
                                    [&](const Load& load) { return load.at == outlet.name; });
    return outlet.on == cable && !read && !loaded;
  });
}

void remove_circuit(House& house, const std::string& name) {
  remove_outlets_on(house, name);
  remove_loads(house, [&](const Load& load) { return load.at == name || load.circuit == name; });
  for (Multiwire& multiwire : house.multiwires) {
    std::erase(multiwire.circuits, name);
    if (multiwire.circuits.empty()) remove_outlets_on(house, multiwire.name);
  }
  std::erase_if(house.multiwires, [&](const Multiwire& multiwire) {
    const bool used = std::any_of(house.outlets.begin(), house.outlets.end(),
                                  [&](const Outlet& outlet) { return outlet.on == multiwire.name; });
    return multiwire.circuits.empty() && !used;
  });
}

}  // namespace

void remove_uses(House& house, std::string_view kind, const std::string& name) {
  if (kind == "circuit") return remove_circuit(house, name);
  if (kind == "multiwire") return remove_outlets_on(house, name);
  if (kind == "outlet") return remove_outlet(house, name);
  if (kind == "load") return remove_load(house, name);
}

}  // namespace evenleg
