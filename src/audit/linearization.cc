#include "src/audit/linearization.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

// c of each feature: a hot to neutral counts a_i p_i, two hots (a_i - a_j)(p_i - p_j), τ_j t p_j.
void fill_linear(const Element& element, bool own, const Vector& a, const Vector& p, Complex t,
                 std::vector<Complex>& c) {
  c.clear();
  for (const auto& [i, j] : element.edges) {
    const int gi = element.ports[at(i)];
    const int gj = element.ports[at(j)];
    c.push_back(i == j ? a(gi) * p(gi) : (a(gi) - a(gj)) * (p(gi) - p(gj)));
  }
  if (!own) return;
  for (int port : element.ports) c.push_back(t * p(port));
}

// The equations' matrix for the ports' volts, then the displacement where there is one.
Matrix system_of(const Equations& eq, const Matrix& y) {
  const Eigen::Index q = eq.e.size();
  const Eigen::Index size = eq.bordered ? q + 1 : q;
  Matrix m = Matrix::Zero(size, size);
  m.topLeftCorner(q, q).noalias() = eq.z * y;
  m.topLeftCorner(q, q).diagonal().array() += 1.0;
  if (!eq.bordered) return m;
  m.topRightCorner(q, 1) = eq.b;
  m.bottomLeftCorner(1, q).noalias() = eq.b.transpose() * y;
  m(q, q) = -eq.g;
  return m;
}

// An element's change of admittance between its own ports.
CableMatrix change_of(const Element& element, int from, int to) {
  const auto ports = static_cast<Eigen::Index>(element.ports.size());
  CableMatrix change = CableMatrix::Zero(ports, ports);
  const Complex* before = element.y.data() + at(from) * element.edge_count();
  const Complex* after = element.y.data() + at(to) * element.edge_count();
  for (std::size_t e = 0; e < element.edge_count(); ++e) {
    add_edge(change, element.edges[e].first, element.edges[e].second, after[e] - before[e]);
  }
  return change;
}

}  // namespace

std::vector<Cost> turned(const std::vector<Cost>& costs, Complex direction) {
  std::vector<Cost> result(costs.size());
  for (std::size_t n = 0; n < costs.size(); ++n) {
    for (const Complex& c : costs[n]) result[n].push_back(std::conj(direction) * c);
  }
  return result;
}

Gradient gradient(const Problem& problem, const Choice& base) {
  const Equations& eq = *problem.equations;
  const Eigen::Index q = eq.e.size();
  const Matrix y = total_admittance(problem, base);
  const Matrix m = system_of(eq, y);
  const auto lu = m.partialPivLu();
  Vector sources = Vector::Zero(m.rows());
  sources.head(q) = eq.e;
  Matrix by_amps(m.rows(), q);
  by_amps.topRows(q) = eq.z;
  if (eq.bordered) by_amps.bottomRows(1) = eq.b.transpose();
  Gradient result;
  result.p = lu.solve(sources).head(q);
  result.g = lu.solve(by_amps).topRows(q);
  Vector seen = Vector::Zero(m.rows());
  if (looks_at_volts(problem)) {
    seen.head(q) = observation(problem, base);
  } else {
    seen.head(q).noalias() = y.transpose() * problem.w;
  }
  result.v = seen.head(q).cwiseProduct(result.p).sum();
  const Vector adjoint = m.transpose().partialPivLu().solve(seen);
  result.l = eq.z.transpose() * adjoint.head(q);
  if (eq.bordered) result.l += adjoint(q) * eq.b;
  if (!looks_at_volts(problem)) result.l -= problem.w;
  result.costs.resize(base.size());
  for (std::size_t n = 0; n < base.size(); ++n) {
    const bool own = static_cast<int>(n) == problem.own;
    fill_linear((*problem.elements)[n], own, result.l, result.p, -1.0, result.costs[n]);
  }
  return result;
}

Complex value_with(const Problem& problem, const Choice& base, const Gradient& here,
                   std::size_t n, int state) {
  const Element& element = (*problem.elements)[n];
  const std::size_t ports = element.ports.size();
  const CableMatrix change = change_of(element, base[n], state);
  CableMatrix system = CableMatrix::Identity(change.rows(), change.cols());  // 1 + G ΔY
  CableVector p(change.rows());
  CableVector l(change.rows());
  for (Eigen::Index i = 0; i < p.size(); ++i) {
    const int port = element.ports[static_cast<std::size_t>(i)];
    p(i) = here.p(port);
    l(i) = here.l(port);
    for (Eigen::Index j = 0; j < p.size(); ++j) {
      system.row(i) += here.g(port, element.ports[static_cast<std::size_t>(j)]) * change.row(j);
    }
  }
  p = p.size() == 1 ? CableVector(p / system(0, 0)) : CableVector(system.partialPivLu().solve(p));
  Complex v = here.v - l.cwiseProduct(change * p).sum();
  if (static_cast<int>(n) != problem.own) return v;
  for (std::size_t i = 0; i < ports; ++i) {
    const Complex more =
        problem.tau[at(state) * ports + i] - problem.tau[at(base[n]) * ports + i];
    v += more * p(static_cast<Eigen::Index>(i));
  }
  return v;
}

}  // namespace evenleg
