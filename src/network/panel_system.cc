#include "evenleg/network/panel_system.h"

#include <Eigen/LU>
#include <algorithm>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

Complex parallel(Complex a, Complex b) {
  if (a == Complex{} || b == Complex{}) return {};
  return a * b / (a + b);
}

bool is_fault_of(const std::optional<NeutralFault>& fault, int panel) {
  return fault && !in_cable(fault->place) && fault->place.panel == panel;
}

// The neutral of a panel's run; nothing when it is removed and has no other way back.
std::optional<Complex> neutral_run_ohms(const Model& model, int panel,
                                        const std::optional<NeutralFault>& fault) {
  std::optional<Complex> ohms = model.panels[at(panel)].run.neutral;
  if (is_fault_of(fault, panel)) {
    if (fault->added_ohms == kOpen) {
      ohms.reset();
    } else {
      *ohms += fault->added_ohms;
    }
  }
  if (panel == 0 && model.earth_return_ohms) {
    const Complex earth = *model.earth_return_ohms;
    ohms = ohms ? parallel(*ohms, earth) : earth;
  }
  return ohms;
}

std::vector<Port> all_ports(const Model& model) {
  std::vector<Port> ports;
  for (std::size_t p = 0; p < model.panels.size(); ++p) {
    const int panel = static_cast<int>(p);
    for (int leg : model.panels[p].legs) ports.push_back({panel, leg, panel});
  }
  for (const CableModel& cable : model.cables) {
    for (const Hot& hot : cable.hots) {
      const Port port{hot.panel, hot.leg, cable.neutral_panel};
      if (find_port(ports, port) < 0) ports.push_back(port);
    }
  }
  return ports;
}

std::vector<int> shared(const std::vector<int>& a, const std::vector<int>& b) {
  std::vector<int> both;
  for (int panel : a) {
    if (std::find(b.begin(), b.end(), panel) != b.end()) both.push_back(panel);
  }
  return both;
}

}  // namespace

int find_port(const std::vector<Port>& ports, const Port& port) {
  const auto found = std::find(ports.begin(), ports.end(), port);
  return found == ports.end() ? -1 : static_cast<int>(found - ports.begin());
}

std::vector<int> path_to_source(const Model& model, int panel) {
  std::vector<int> path;
  for (int p = panel; p >= 0; p = model.panels[at(p)].fed_from) path.push_back(p);
  return path;
}

std::optional<Complex> service_neutral_ohms(const Model& model,
                                            const std::optional<NeutralFault>& fault) {
  Complex ohms = model.panels.front().run.neutral;
  if (is_fault_of(fault, 0)) {
    if (fault->added_ohms == kOpen) return std::nullopt;
    ohms += fault->added_ohms;
  }
  return ohms;
}

PanelSystem panel_system(const Model& model, const std::optional<NeutralFault>& fault) {
  PanelSystem system;
  system.ports = all_ports(model);
  for (const CableModel& cable : model.cables) {
    std::vector<int> ports;
    for (const Hot& hot : cable.hots) {
      ports.push_back(find_port(system.ports, {hot.panel, hot.leg, cable.neutral_panel}));
    }
    system.cable_ports.push_back(std::move(ports));
  }
  std::vector<std::vector<int>> paths;
  int removed = -1;
  for (std::size_t p = 0; p < model.panels.size(); ++p) {
    const int panel = static_cast<int>(p);
    paths.push_back(path_to_source(model, panel));
    const std::optional<Complex> ohms = neutral_run_ohms(model, panel, fault);
    if (!ohms) removed = panel;
    system.neutral_ohms.push_back(ohms.value_or(Complex{}));
  }
  const auto count = static_cast<Eigen::Index>(system.ports.size());
  system.e = Vector(count);
  system.z = Matrix::Zero(count, count);
  system.beyond = Vector::Zero(count);
  system.floating = removed >= 0;
  for (Eigen::Index r = 0; r < count; ++r) {
    const Port& a = system.ports[static_cast<std::size_t>(r)];
    system.e(r) = model.source[at(a.leg)];
    const std::vector<int>& neutral_path = paths[at(a.neutral_panel)];
    if (std::find(neutral_path.begin(), neutral_path.end(), removed) != neutral_path.end()) {
      system.beyond(r) = 1;
    }
    for (Eigen::Index s = 0; s < count; ++s) {
      const Port& b = system.ports[static_cast<std::size_t>(s)];
      system.z(r, s) += model.source_impedance(a.leg, b.leg);
      if (a.leg == b.leg) {
        for (int panel : shared(paths[at(a.panel)], paths[at(b.panel)])) {
          system.z(r, s) += model.panels[at(panel)].run.hot;
        }
      }
      for (int panel : shared(neutral_path, paths[at(b.neutral_panel)])) {
        system.z(r, s) += system.neutral_ohms[at(panel)];
      }
    }
  }
  return system;
}

PanelVolts solve_panels(const PanelSystem& system, const Matrix& y, bool joined) {
  const Eigen::Index q = system.e.size();
  const bool bordered = system.floating && joined;
  const Eigen::Index size = bordered ? q + 1 : q;
  Matrix a(size, size);
  Vector rhs(size);
  a.topLeftCorner(q, q) = Matrix::Identity(q, q) + system.z * y;
  rhs.head(q) = system.e;
  if (bordered) {
    a.topRightCorner(q, 1) = system.beyond;
    a.bottomLeftCorner(1, q) = system.beyond.transpose() * y;
    a(q, q) = 0;
    rhs(q) = 0;
  }
  const Vector x = a.partialPivLu().solve(rhs);
  PanelVolts volts;
  volts.p = x.head(q);
  volts.i = y * volts.p;
  volts.displacement = bordered ? x(q) : Complex{};
  volts.isolated = system.floating && !joined;
  volts.solved = x.allFinite();
  return volts;
}

}  // namespace evenleg
