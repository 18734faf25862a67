#include "src/audit/element.h"

#include <algorithm>
#include <numeric>

#include "evenleg/base/index.h"
#include "evenleg/network/collapse.h"
#include "src/audit/corners.h"

namespace evenleg {
namespace {

// The admittances of a cable's loads in one state, in a buffer for all loads of the model.
void switch_loads(const Model& model, int cable, std::uint64_t on, std::vector<Complex>& y) {
  const std::vector<int>& loads = model.cables[at(cable)].loads;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const bool is_on = i < 64 && (on >> i & 1U) != 0;  // 64: the bits of CableState::on
    y[at(loads[i])] = is_on ? model.loads[at(loads[i])].admittance : Complex{};
  }
}

std::vector<int> positions_of_ports(const std::vector<int>& cable_ports,
                                    const std::vector<int>& ports) {
  std::vector<int> positions;
  for (int port : cable_ports) {
    positions.push_back(
        static_cast<int>(std::find(ports.begin(), ports.end(), port) - ports.begin()));
  }
  return positions;
}

// A hot's position among the element's ports: hots of one leg share a port, in order of first use.
std::vector<int> positions_of_hots(const CableModel& cable) {
  std::vector<int> position(cable.hots.size());
  std::vector<std::pair<int, int>> seen;
  for (std::size_t h = 0; h < cable.hots.size(); ++h) {
    const std::pair<int, int> key{cable.hots[h].panel, cable.hots[h].leg};
    const auto found = std::find(seen.begin(), seen.end(), key);
    position[h] = static_cast<int>(found - seen.begin());
    if (found == seen.end()) seen.push_back(key);
  }
  return position;
}

}  // namespace

Element make_element(const Model& model, const PanelSystem& system, const Credible& credible,
                     int cable, const std::optional<NeutralFault>& fault) {
  Element element;
  element.cable = cable;
  element.states = credible.cables[at(cable)].states;
  element.complete = credible.cables[at(cable)].complete;
  const std::vector<int>& cable_ports = system.cable_ports[at(cable)];
  for (int port : cable_ports) {
    if (std::find(element.ports.begin(), element.ports.end(), port) == element.ports.end()) {
      element.ports.push_back(port);
    }
  }
  const std::vector<int> position = positions_of_ports(cable_ports, element.ports);
  const int count = static_cast<int>(element.ports.size());
  for (int i = 0; i < count; ++i) {
    for (int j = i; j < count; ++j) element.edges.emplace_back(i, j);
  }
  std::vector<Complex> loads(model.loads.size());
  for (const CableState& state : element.states) {
    switch_loads(model, cable, state.on, loads);
    const CableReduction reduction(model.cables[at(cable)], model.loads, loads, fault);
    const CableMatrix& hots = reduction.admittance();
    CableMatrix y = CableMatrix::Zero(count, count);
    for (std::size_t a = 0; a < position.size(); ++a) {
      for (std::size_t b = 0; b < position.size(); ++b) {
        y(position[a], position[b]) +=
            hots(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b));
      }
    }
    for (const auto& [i, j] : element.edges) {
      element.y.push_back(i == j ? y.row(i).sum() : -y(i, j));
    }
    element.joins.push_back(reduction.reaches_neutral());
  }
  if (element.edge_count() == 1) {
    std::vector<int> all(element.states.size());
    std::iota(all.begin(), all.end(), 0);
    element.corners = corner_states(element, all);
  }
  return element;
}

Rows terminal_rows(const Model& model, const Element& element,
                   const std::vector<Terminals>& terminals,
                   const std::optional<NeutralFault>& fault) {
  const CableModel& cable = model.cables[at(element.cable)];
  const auto hots = static_cast<Eigen::Index>(cable.hots.size());
  const std::vector<int> position = positions_of_hots(cable);
  Rows rows;
  rows.ports = element.ports.size();
  rows.tau.assign(element.states.size() * terminals.size() * rows.ports, {});
  rows.fed.assign(element.states.size() * terminals.size(), true);
  std::vector<Complex> loads(model.loads.size());
  for (std::size_t s = 0; s < element.states.size(); ++s) {
    switch_loads(model, element.cable, element.states[s].on, loads);
    const CableReduction reduction(cable, model.loads, loads, fault);
    for (Eigen::Index h = 0; h < hots; ++h) {
      const std::vector<BoxVolts> boxes = reduction.expand(CableVector::Unit(hots, h));
      for (std::size_t t = 0; t < terminals.size(); ++t) {
        const BoxVolts& box = boxes[at(terminals[t].box)];
        Complex volts = box.hot_to_neutral(terminals[t].from);
        if (terminals[t].to != kNeutral) volts -= box.hot_to_neutral(terminals[t].to);
        const std::size_t row = s * terminals.size() + t;
        rows.tau[row * rows.ports + at(position[static_cast<std::size_t>(h)])] += volts;
        if (box.isolated && terminals[t].to == kNeutral) rows.fed[row] = false;
      }
    }
  }
  return rows;
}

Rows joint_rows(const Model& model, const Element& element, const NeutralFault& fault) {
  const CableModel& cable = model.cables[at(element.cable)];
  const std::vector<int> position = positions_of_hots(cable);
  const BoxModel& length = cable.boxes[at(fault.place.box)];
  const Complex neutral_ohms = length.run.neutral + fault.added_ohms;
  Rows rows;
  rows.ports = element.ports.size();
  rows.tau.assign(element.states.size() * rows.ports, {});
  rows.fed.assign(element.states.size(), true);
  std::vector<Complex> loads(model.loads.size());
  for (std::size_t s = 0; s < element.states.size(); ++s) {
    switch_loads(model, element.cable, element.states[s].on, loads);
    const CableReduction reduction(cable, model.loads, loads, fault);
    for (std::size_t h = 0; h < cable.hots.size(); ++h) {
      const auto hots = static_cast<Eigen::Index>(cable.hots.size());
      const std::vector<BoxVolts> boxes =
          reduction.expand(CableVector::Unit(hots, static_cast<Eigen::Index>(h)));
      const Complex drop = boxes[at(fault.place.box)].neutral_rise -
                           boxes[at(length.upstream)].neutral_rise;
      rows.tau[s * rows.ports + at(position[h])] += drop / neutral_ohms;
    }
  }
  return rows;
}

Rows neutral_rows(const Element& element) {
  Rows rows;
  rows.ports = element.ports.size();
  rows.tau.assign(element.states.size() * rows.ports, {});
  rows.fed.assign(element.states.size(), true);
  for (std::size_t s = 0; s < element.states.size(); ++s) {
    for (std::size_t e = 0; e < element.edges.size(); ++e) {
      const auto& [i, j] = element.edges[e];  // what flows between two hots skips the neutral
      if (i == j) rows.tau[s * rows.ports + at(i)] += element.y[s * element.edge_count() + e];
    }
  }
  return rows;
}

}  // namespace evenleg
