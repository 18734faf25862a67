#include "src/house/cable_builder.h"

#include <algorithm>
#include <cassert>
#include <set>
#include <unordered_map>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

using Index = std::unordered_map<std::string, int>;

template <class Record>
Index index_by_name(const std::vector<Record>& records) {
  Index index;
  for (std::size_t i = 0; i < records.size(); ++i) index[records[i].name] = static_cast<int>(i);
  return index;
}

int add_box(Cable& cable, Box box) {
  cable.boxes.push_back(std::move(box));
  return static_cast<int>(cable.boxes.size()) - 1;
}

// Conductor and neutral for a run that names no conductor and whose hots were not measured.
void inherit(Run& run, const Run& from) {
  if (run.conductor || run.hot_ohms) return;
  run.conductor = from.conductor;
  if (!run.neutral) run.neutral = from.neutral;
}

struct Builder {
  const House& house;
  Wiring& wiring;
  Index circuits = index_by_name(house.circuits);
  Index outlets = index_by_name(house.outlets);
  std::vector<int> multiwire_cable = std::vector<int>(house.multiwires.size(), -1);
  std::vector<int> multiwire_end = std::vector<int>(house.multiwires.size(), 0);  // box
  std::vector<int> circuit_end = std::vector<int>(house.circuits.size(), 0);      // box
  std::vector<std::vector<int>> circuit_hots =
      std::vector<std::vector<int>>(house.circuits.size());  // hots of its cable

  void add_hots(Cable& cable, int circuit) {
    cable.circuits.push_back(circuit);
    for (int leg : wiring.circuit_legs[at(circuit)]) {
      circuit_hots[at(circuit)].push_back(static_cast<int>(cable.hots.size()));
      cable.hots.push_back({circuit, wiring.circuit_panel[at(circuit)], leg});
    }
  }

  static std::vector<int> all_hots(const Cable& cable) {
    std::vector<int> hots(cable.hots.size());
    for (std::size_t h = 0; h < hots.size(); ++h) hots[h] = static_cast<int>(h);
    return hots;
  }

  static bool on_different_legs(const Cable& cable, const std::vector<int>& hots) {
    std::set<int> legs;
    for (int h : hots) legs.insert(cable.hots[at(h)].leg);
    return legs.size() > 1;
  }

  // The circuit's own run: from the panel end, or from the end of the multiwire's shared run.
  void add_circuit_end(Cable& cable, int circuit, int from_box, const Run* inherited) {
    Box end{from_box, circuit_hots[at(circuit)], -1, house.circuits[at(circuit)].run, ""};
    if (inherited) inherit(end.run, *inherited);
    circuit_end[at(circuit)] = add_box(cable, std::move(end));
    wiring.circuit_cable[at(circuit)] = static_cast<int>(wiring.cables.size());
  }

  void add_multiwire(int m) {
    const Multiwire& multiwire = house.multiwires[at(m)];
    Cable cable;
    cable.multiwire = m;
    for (const std::string& name : multiwire.circuits) add_hots(cable, circuits.at(name));
    cable.neutral_panel = cable.hots.front().panel;
    cable.boxes.push_back({-1, all_hots(cable), -1, {}, ""});
    const bool shared = on_different_legs(cable, all_hots(cable));
    multiwire_end[at(m)] =
        add_box(cable, {0, all_hots(cable), -1, multiwire.run, shared ? multiwire.name : ""});
    for (int circuit : cable.circuits) {
      add_circuit_end(cable, circuit, multiwire_end[at(m)], &multiwire.run);
    }
    multiwire_cable[at(m)] = static_cast<int>(wiring.cables.size());
    wiring.cables.push_back(std::move(cable));
  }

  void add_single(int circuit) {
    Cable cable;
    add_hots(cable, circuit);
    cable.neutral_panel = wiring.circuit_panel[at(circuit)];
    cable.boxes.push_back({-1, all_hots(cable), -1, {}, ""});
    add_circuit_end(cable, circuit, 0, nullptr);
    wiring.cables.push_back(std::move(cable));
  }

  // The outlet upstream of each: `after`, else the one listed before it on the same circuit or
  // multiwire, else none (-1).
  std::vector<int> upstream_outlets() const {
    std::vector<int> upstream(house.outlets.size(), -1);
    Index last;
    for (std::size_t o = 0; o < house.outlets.size(); ++o) {
      const Outlet& outlet = house.outlets[o];
      if (outlet.after) {
        upstream[o] = outlets.at(*outlet.after);
      } else if (const auto found = last.find(outlet.on); found != last.end()) {
        upstream[o] = found->second;
      }
      last[outlet.on] = static_cast<int>(o);
    }
    return upstream;
  }

  void add_outlet(int o, int upstream) {
    const Outlet& outlet = house.outlets[at(o)];
    Box box;
    box.outlet = o;
    box.run = outlet.run;
    int cable_index = 0;
    int start = 0;
    if (const auto found = circuits.find(outlet.on); found != circuits.end()) {
      const int circuit = found->second;
      cable_index = wiring.circuit_cable[at(circuit)];
      start = circuit_end[at(circuit)];
      box.hots = circuit_hots[at(circuit)];
      inherit(box.run, house.circuits[at(circuit)].run);
      const int multiwire = wiring.cables[at(cable_index)].multiwire;
      if (multiwire >= 0) inherit(box.run, house.multiwires[at(multiwire)].run);
    } else {
      const auto m = std::find_if(house.multiwires.begin(), house.multiwires.end(),
                                  [&](const Multiwire& w) { return w.name == outlet.on; });
      assert(m != house.multiwires.end());
      const auto multiwire = m - house.multiwires.begin();
      cable_index = multiwire_cable[static_cast<std::size_t>(multiwire)];
      start = multiwire_end[static_cast<std::size_t>(multiwire)];
      box.hots = all_hots(wiring.cables[at(cable_index)]);
      inherit(box.run, m->run);
    }
    Cable& cable = wiring.cables[at(cable_index)];
    box.upstream = upstream < 0 ? start : wiring.outlet_box[at(upstream)];
    const bool of_multiwire = cable.multiwire >= 0 && on_different_legs(cable, all_hots(cable));
    if (of_multiwire && box.hots.size() > 1) box.neutral_place = outlet.name;
    wiring.outlet_cable[at(o)] = cable_index;
    wiring.outlet_box[at(o)] = add_box(cable, std::move(box));
  }

  // Outlets in an order in which each comes after its upstream one.
  void add_outlets() {
    const std::vector<int> upstream = upstream_outlets();
    std::vector<std::vector<int>> beyond(house.outlets.size());
    std::vector<int> ready;
    for (std::size_t o = house.outlets.size(); o-- > 0;) {
      if (upstream[o] < 0) ready.push_back(static_cast<int>(o));
    }
    for (std::size_t o = house.outlets.size(); o-- > 0;) {
      if (upstream[o] >= 0) beyond[at(upstream[o])].push_back(static_cast<int>(o));
    }
    while (!ready.empty()) {
      const int o = ready.back();
      ready.pop_back();
      add_outlet(o, upstream[at(o)]);
      ready.insert(ready.end(), beyond[at(o)].begin(), beyond[at(o)].end());
    }
  }
};

// The hot of `cable` among `hots` on the leg of that name; on a multiwire, of `circuit` if given.
int hot_on_leg(const Wiring& wiring, const Cable& cable, const std::vector<int>& hots,
               std::string_view leg, int circuit) {
  for (int h : hots) {
    const Hot& hot = cable.hots[at(h)];
    if (circuit >= 0 && hot.circuit != circuit) continue;
    if (wiring.system.legs[at(hot.leg)].name == leg) return h;
  }
  return kNeutral;
}

}  // namespace

void build_cables(const House& house, Wiring& wiring) {
  wiring.circuit_cable.assign(house.circuits.size(), -1);
  wiring.outlet_cable.assign(house.outlets.size(), -1);
  wiring.outlet_box.assign(house.outlets.size(), -1);
  Builder builder{house, wiring};
  for (std::size_t m = 0; m < house.multiwires.size(); ++m) {
    builder.add_multiwire(static_cast<int>(m));
  }
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    if (wiring.circuit_cable[c] < 0) builder.add_single(static_cast<int>(c));
  }
  builder.add_outlets();
}

void connect_loads(const House& house, Wiring& wiring) {
  const Index circuits = index_by_name(house.circuits);
  const Index outlets = index_by_name(house.outlets);
  for (const Load& load : house.loads) {
    WiredLoad wired;
    int circuit = -1;
    if (const auto found = outlets.find(load.at); found != outlets.end()) {
      wired.cable = wiring.outlet_cable[at(found->second)];
      wired.box = wiring.outlet_box[at(found->second)];
      if (load.circuit) circuit = circuits.at(*load.circuit);
    } else {
      circuit = circuits.at(load.at);
      wired.cable = wiring.circuit_cable[at(circuit)];
      const Cable& own = wiring.cables[at(wired.cable)];
      for (std::size_t b = 1; b < own.boxes.size(); ++b) {  // the end of the circuit's own run
        const Box& box = own.boxes[b];
        const bool of_circuit = own.hots[at(box.hots.front())].circuit == circuit;
        const bool shared_run_end = own.multiwire >= 0 && b == 1;
        if (box.outlet < 0 && of_circuit && !shared_run_end) {
          wired.box = static_cast<int>(b);
          break;
        }
      }
    }
    const Cable& cable = wiring.cables[at(wired.cable)];
    const std::vector<int>& all = cable.boxes[at(wired.box)].hots;
    std::vector<int> hots = all;
    if (circuit >= 0) {
      std::erase_if(hots, [&](int h) { return cable.hots[at(h)].circuit != circuit; });
    }
    const std::string connect =
        load.connect ? *load.connect : (hots.size() == 1 ? "L-N" : "L-L");
    const std::size_t dash = connect.find('-');
    const std::string first = connect.substr(0, dash);
    const std::string second = connect.substr(dash + 1);
    if (first == "L") {
      wired.from = hots.front();
      wired.to = second == "N" ? kNeutral : hots.back();
    } else {
      wired.from = hot_on_leg(wiring, cable, second == "N" ? hots : all, first,
                              second == "N" ? circuit : -1);
      wired.to = second == "N" ? kNeutral : hot_on_leg(wiring, cable, all, second, -1);
    }
    assert(wired.from >= 0);
    wired.circuits.push_back(cable.hots[at(wired.from)].circuit);
    if (wired.to != kNeutral) wired.circuits.push_back(cable.hots[at(wired.to)].circuit);
    wiring.loads.push_back(std::move(wired));
  }
}

}  // namespace evenleg
