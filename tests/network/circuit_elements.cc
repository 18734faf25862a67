#include "tests/network/circuit_elements.h"

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"
#include "evenleg/network/model.h"
#include "evenleg/units/phasor.h"

namespace evenleg {
namespace {

class Lister {
 public:
  Lister(const House& house, const Wiring& wiring, const Tables& tables,
         const std::optional<NeutralFault>& fault)
      : house_(house), wiring_(wiring), tables_(tables), fault_(fault) {}

  CircuitElements list(const std::vector<Complex>& load_admittances) {
    list_source();
    for (std::size_t p = 0; p < house_.panels.size(); ++p) elements_.panels.emplace_back();
    list_panel(0);
    for (const Cable& cable : wiring_.cables) list_cable(cable);
    for (std::size_t l = 0; l < wiring_.loads.size(); ++l) {
      const WiredLoad& load = wiring_.loads[l];
      const BoxNodes& box = elements_.boxes[at(load.cable)][at(load.box)];
      const int to = load.to == kNeutral ? box.neutral : box.hot[at(load.to)];
      elements_.loads.push_back({box.hot[at(load.from)], to, load_admittances[l], {}});
    }
    return std::move(elements_);
  }

 private:
  int node() { return elements_.nodes++; }
  int conductor(int from, int to, Complex ohms) {
    elements_.conductors.push_back({from, to, ohms, false});
    return static_cast<int>(elements_.conductors.size()) - 1;
  }
  // A neutral, with the fault in it if this is its place.
  int neutral(int from, int to, Complex ohms, bool faulty) {
    const int index = conductor(from, to, ohms);
    ConductorElement& element = elements_.conductors.back();
    if (faulty && fault_->added_ohms == kOpen) element.removed = true;
    if (faulty && !element.removed) element.ohms += fault_->added_ohms;
    return index;
  }

  void list_source() {
    const std::vector<double>& given = house_.supply.volts;
    const std::vector<Leg>& legs = wiring_.system.legs;
    for (std::size_t leg = 0; leg < legs.size(); ++leg) {
      double volts = wiring_.system.nominal_volts;
      if (!given.empty()) volts = given.size() == 1 ? given[0] : given[leg];
      elements_.source.push_back(std::polar(volts, radians(legs[leg].angle_degrees)));
      elements_.terminal.push_back(node());
    }
    elements_.source_impedance = source_impedance_of(house_.supply, wiring_.system);
  }

  // The panel and those that it feeds.
  void list_panel(int p) {
    const WiredPanel& wired = wiring_.panels[at(p)];
    const std::optional<Service>& service = house_.service;
    const Run run = p > 0 ? house_.panels[at(p)].run : service ? service->run : Run{};
    const RunImpedance ohms = impedance_of(run, tables_);
    PanelNodes nodes;
    for (int leg : wired.legs) {
      nodes.hot.push_back(node());
      const int from = p > 0 ? bus(wired.fed_from, leg) : elements_.terminal[at(leg)];
      nodes.hot_conductor.push_back(conductor(from, nodes.hot.back(), ohms.hot));
    }
    nodes.neutral = node();
    const int from = p > 0 ? elements_.panels[at(wired.fed_from)].neutral : kSourceNeutral;
    const bool faulty = fault_ && !in_cable(fault_->place) && fault_->place.panel == p;
    nodes.neutral_conductor = neutral(from, nodes.neutral, ohms.neutral, faulty);
    if (p == 0 && service && service->earth_return_ohms) {
      elements_.earth_return =
          conductor(kSourceNeutral, nodes.neutral, *service->earth_return_ohms);
    }
    elements_.panels[at(p)] = std::move(nodes);
    for (std::size_t fed = 1; fed < wiring_.panels.size(); ++fed) {
      if (wiring_.panels[fed].fed_from == p) list_panel(static_cast<int>(fed));
    }
  }

  int bus(int panel, int leg) const {
    const std::vector<int>& legs = wiring_.panels[at(panel)].legs;
    const auto found = std::find(legs.begin(), legs.end(), leg) - legs.begin();
    return elements_.panels[at(panel)].hot[static_cast<std::size_t>(found)];
  }

  void list_cable(const Cable& cable) {
    const auto index = static_cast<int>(elements_.boxes.size());
    std::vector<BoxNodes> boxes(cable.boxes.size());
    for (const Hot& hot : cable.hots) boxes[0].hot.push_back(bus(hot.panel, hot.leg));
    boxes[0].neutral = elements_.panels[at(cable.neutral_panel)].neutral;
    for (std::size_t b = 1; b < boxes.size(); ++b) {
      const Box& box = cable.boxes[b];
      const BoxNodes& upstream = boxes[at(box.upstream)];
      const RunImpedance ohms = impedance_of(box.run, tables_);
      boxes[b].hot.assign(cable.hots.size(), kNoNode);
      for (int h : box.hots) {
        boxes[b].hot[at(h)] = node();
        conductor(upstream.hot[at(h)], boxes[b].hot[at(h)], ohms.hot);
      }
      boxes[b].neutral = node();
      const bool faulty =
          fault_ && fault_->place.cable == index && fault_->place.box == static_cast<int>(b);
      boxes[b].neutral_conductor =
          neutral(upstream.neutral, boxes[b].neutral, ohms.neutral, faulty);
    }
    elements_.boxes.push_back(std::move(boxes));
  }

  const House& house_;
  const Wiring& wiring_;
  const Tables& tables_;
  const std::optional<NeutralFault>& fault_;
  CircuitElements elements_;
};

}  // namespace

CircuitElements circuit_elements(const House& house, const Wiring& wiring, const Tables& tables,
                                 const std::vector<Complex>& load_admittances,
                                 const std::optional<NeutralFault>& fault) {
  return Lister(house, wiring, tables, fault).list(load_admittances);
}

}  // namespace evenleg
