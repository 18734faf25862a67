#include "src/audit/problem.h"

#include <Eigen/LU>
#include <algorithm>

#include "evenleg/base/index.h"

namespace evenleg {

bool groups_agree(const Elements& elements, const Choice& choice) {
  std::uint32_t groups = 0;
  for (std::size_t n = 0; n < choice.size(); ++n) {
    const std::uint32_t more = elements[n].states[at(choice[n])].groups;
    if ((groups & more) != 0) return false;
    groups |= more;
  }
  return true;
}

bool is_joined(const Problem& problem, const Choice& choice) {
  const Equations& eq = *problem.equations;
  if (!eq.bordered || eq.g != Complex{}) return true;
  for (std::size_t n = 0; n < choice.size(); ++n) {
    const Element& element = (*problem.elements)[n];
    if (element.ports.empty() || eq.b(element.ports.front()) == Complex{}) continue;
    if (element.joins[at(choice[n])]) return true;
  }
  return false;
}

Equations equations_of(const PanelSystem& system, const Model& model,
                       const std::optional<NeutralFault>& fault) {
  Equations equations{system.e, system.z, system.floating, system.beyond, {}};
  if (!fault || in_cable(fault->place) || system.floating) return equations;
  const Complex ohms = system.neutral_ohms[at(fault->place.panel)];
  if (ohms == Complex{}) return equations;
  equations.bordered = true;
  equations.g = 1.0 / ohms;
  for (std::size_t r = 0; r < system.ports.size(); ++r) {
    const std::vector<int> path = path_to_source(model, system.ports[r].neutral_panel);
    const bool beyond = std::find(path.begin(), path.end(), fault->place.panel) != path.end();
    equations.b(static_cast<Eigen::Index>(r)) = beyond ? 1 : 0;
  }
  equations.z -= ohms * equations.b * equations.b.transpose();
  return equations;
}

Matrix total_admittance(const Problem& problem, const Choice& choice) {
  const Eigen::Index q = problem.equations->e.size();
  Matrix y = Matrix::Zero(q, q);
  for (std::size_t n = 0; n < problem.elements->size(); ++n) {
    const Element& element = (*problem.elements)[n];
    const std::size_t first = at(choice[n]) * element.edge_count();
    for (std::size_t e = 0; e < element.edge_count(); ++e) {
      const int i = element.ports[at(element.edges[e].first)];
      const int j = element.ports[at(element.edges[e].second)];
      const Complex edge = element.y[first + e];
      add_edge(y, i, j, edge);
    }
  }
  return y;
}

Vector observation(const Problem& problem, const Choice& choice) {
  if (problem.row.size() > 0) return problem.row;
  Vector row = Vector::Zero(problem.equations->e.size());
  if (problem.own < 0) return row;
  const std::vector<int>& ports = (*problem.elements)[at(problem.own)].ports;
  for (std::size_t i = 0; i < ports.size(); ++i) {
    row(ports[i]) = problem.tau[at(choice[at(problem.own)]) * ports.size() + i];
  }
  return row;
}

Vector port_volts(const Equations& eq, const Matrix& y, bool bordered) {
  const Eigen::Index q = eq.e.size();
  Matrix a(bordered ? q + 1 : q, bordered ? q + 1 : q);
  Vector rhs = Vector::Zero(a.rows());
  a.topLeftCorner(q, q).noalias() = eq.z * y;
  a.topLeftCorner(q, q).diagonal().array() += 1.0;
  rhs.head(q) = eq.e;
  if (bordered) {
    a.topRightCorner(q, 1) = eq.b;
    a.bottomLeftCorner(1, q).noalias() = eq.b.transpose() * y;
    a(q, q) = -eq.g;
  }
  return a.partialPivLu().solve(rhs).head(q);
}

Vector port_volts(const Problem& problem, const Choice& choice) {
  const Equations& eq = *problem.equations;
  return port_volts(eq, total_admittance(problem, choice),
                    eq.bordered && is_joined(problem, choice));
}

Complex value(const Problem& problem, const Choice& choice) {
  if (looks_at_volts(problem) && !is_joined(problem, choice)) return {};
  const Vector p = port_volts(problem, choice);
  if (looks_at_volts(problem)) return observation(problem, choice).cwiseProduct(p).sum();
  return problem.w.cwiseProduct(total_admittance(problem, choice) * p).sum();
}

}  // namespace evenleg
