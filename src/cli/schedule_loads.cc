// The loads of a house, circuit by circuit.
#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/base/text_table.h"
#include "evenleg/house/load_words.h"
#include "src/cli/schedule.h"

namespace evenleg {
namespace {

// The circuits that a load uses, each once, in the house's order.
std::vector<int> circuits_of(const WiredLoad& wired) {
  std::vector<int> circuits = wired.circuits;
  std::sort(circuits.begin(), circuits.end());
  circuits.erase(std::unique(circuits.begin(), circuits.end()), circuits.end());
  return circuits;
}

bool any_noncoincident(const House& house) {
  return std::any_of(house.loads.begin(), house.loads.end(),
                     [](const Load& load) { return load.noncoincident.has_value(); });
}

std::string heading_of(const std::vector<int>& circuits, const House& house) {
  std::vector<std::string> names;
  for (int circuit : circuits) names.push_back(house.circuits[at(circuit)].name);
  return shortened("  " + listed(names), kPageColumns) + "\n";
}

}  // namespace

std::string loads_text(const House& house, const Wiring& wiring) {
  std::vector<int> order;
  for (std::size_t l = 0; l < house.loads.size(); ++l) order.push_back(static_cast<int>(l));
  const auto circuits = [&](int load) { return circuits_of(wiring.loads[at(load)]); };
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return circuits(a) < circuits(b); });
  TextTable table({{"Load"}, {"At"}, {"Legs"}, {"Rating"}, {"Kind"}, {"As found"}});
  for (int l : order) {
    const Load& load = house.loads[at(l)];
    const WiredLoad& wired = wiring.loads[at(l)];
    const bool at_circuit = load.at == house.circuits[at(wired.circuits.front())].name;
    table.add({load.name, at_circuit ? "end of its run" : load.at,
               legs_text(wiring, wiring.cables[at(wired.cable)], wired.from, wired.to),
               rating_text(load), load.kind, state_text(load)});
  }
  if (table.empty()) return "";
  // The table has a heading and a rule, then a line for each load: circuits' names go between.
  constexpr int kMargin = 4;
  std::istringstream lines(table.text(kMargin));
  std::string text = "\nLoads\n";
  std::string line;
  for (int heading = 0; heading < 2 && std::getline(lines, line); ++heading) text += line + "\n";
  for (std::size_t i = 0; i < order.size() && std::getline(lines, line); ++i) {
    const bool next_circuit = i == 0 || circuits(order[i]) != circuits(order[i - 1]);
    if (next_circuit) text += heading_of(circuits(order[i]), house);
    text += line + "\n";
  }
  if (any_noncoincident(house)) {
    text += "  (name): at most one load of that name is on at a time.\n";
  }
  return text;
}

}  // namespace evenleg
