#include "src/edit/remove_uses.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "evenleg/base/error.h"

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

using Names = std::set<std::string>;
using Upstream = std::map<std::string, std::optional<std::string>>;

// The outlet that each one follows, by the rule of the description; absent: the end of the run from
// the panel. `but`: are passed over, as if they were not listed.
Upstream upstream_of(const House& house, const Names& but = {}) {
  Upstream upstream;
  std::map<std::string, std::string> last;  // by what it is on
  for (const Outlet& outlet : house.outlets) {
    if (but.count(outlet.name) > 0) continue;
    std::optional<std::string> before = outlet.after;
    if (!before && last.count(outlet.on) > 0) before = last.at(outlet.on);
    upstream[outlet.name] = before;
    last[outlet.on] = outlet.name;
  }
  return upstream;
}

// What follows outlets that go follows the one before them, and all others stay where they are,
// whatever the order of the list says then.
void close_gaps(House& house, const Names& gone) {
  const Upstream before = upstream_of(house);
  for (Outlet& outlet : house.outlets) {
    if (gone.count(outlet.name) > 0) continue;
    auto wanted = before.at(outlet.name);
    while (wanted && gone.count(*wanted) > 0) wanted = before.at(*wanted);
    if (outlet.after && gone.count(*outlet.after) > 0) outlet.after = wanted;
    if (outlet.after || upstream_of(house, gone).at(outlet.name) == wanted) continue;
    if (!wanted) {
      throw Error(ErrorKind::Request,
                  {fmt::format("outlet \"{}\"", outlet.name),
                   "would begin at the panel beside another branch, and no description can say so",
                   "let it follow another outlet first"});
    }
    outlet.after = wanted;
  }
}

void remove_outlet(House& house, const std::string& name) {
  remove_loads(house, [&](const Load& load) { return load.at == name; });
  close_gaps(house, {name});
}

// One that a reading or a load still names stays, and says so when the removal is judged.
bool is_named(const House& house, const std::string& outlet) {
  return std::any_of(house.readings.begin(), house.readings.end(),
                     [&](const Reading& one) { return one.at == outlet; }) ||
         std::any_of(house.loads.begin(), house.loads.end(),
                     [&](const Load& load) { return load.at == outlet; });
}

void remove_outlets_on(House& house, const std::string& cable) {
  Names names;
  for (const Outlet& outlet : house.outlets) {
    if (outlet.on == cable) names.insert(outlet.name);
  }
  remove_loads(house, [&](const Load& load) { return names.count(load.at) > 0; });
  std::erase_if(names, [&](const std::string& name) { return is_named(house, name); });
  close_gaps(house, names);
  std::erase_if(house.outlets, [&](const Outlet& outlet) { return names.count(outlet.name) > 0; });
}

void remove_circuit(House& house, const std::string& name) {
  remove_outlets_on(house, name);
  remove_loads(house, [&](const Load& load) { return load.at == name || load.circuit == name; });
  for (Multiwire& multiwire : house.multiwires) {
    std::erase(multiwire.circuits, name);
    if (multiwire.circuits.empty()) remove_outlets_on(house, multiwire.name);
  }
  std::erase_if(house.multiwires, [&](const Multiwire& multiwire) {
    const bool used =
        std::any_of(house.outlets.begin(), house.outlets.end(),
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
