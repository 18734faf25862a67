#include "src/audit/linearization.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

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
  const Eigen::Index size = eq.bordered ? q + 1 : q;
  Matrix m = Matrix::Zero(size, size);
  m.topLeftCorner(q, q).noalias() = eq.z * y;
  m.topLeftCorner(q, q).diagonal().array() += 1.0;
  Vector rhs = Vector::Zero(size);
  rhs.head(q) = eq.e;
  if (eq.bordered) {
    m.topRightCorner(q, 1) = eq.b;
    m.bottomLeftCorner(1, q).noalias() = eq.b.transpose() * y;
    m(q, q) = -eq.g;
  }
  const auto lu = m.partialPivLu();
  Gradient result;
  result.p = lu.solve(rhs).head(q);
  const Vector& p = result.p;
  Vector seen = Vector::Zero(size);
  Vector direct = Vector::Zero(q);
  if (looks_at_volts(problem)) {
    seen.head(q) = observation(problem, base);
  } else {
    seen.head(q).noalias() = y.transpose() * problem.w;
    direct = problem.w;
  }
  result.v = seen.head(q).cwiseProduct(p).sum();
  const Vector adjoint = lu.transpose().solve(seen);
  Vector& l = result.l;
  l = eq.z.transpose() * adjoint.head(q);
  if (eq.bordered) l += adjoint(q) * eq.b;
  l -= direct;
  Matrix by_amps(size, q);
  by_amps.topRows(q) = eq.z;
  if (eq.bordered) by_amps.bottomRows(1) = eq.b.transpose();
  result.g = lu.solve(by_amps).topRows(q);
  result.costs.resize(base.size());
  for (std::size_t n = 0; n < base.size(); ++n) {
    const bool own = static_cast<int>(n) == problem.own;
    fill_linear((*problem.elements)[n], own, l, p, -1.0, result.costs[n]);
  }
  return result;
}

Complex value_with(const Problem& problem, const Choice& base, const Gradient& here,
                   std::size_t n, int state) {
  const Element& element = (*problem.elements)[n];
  const auto ports = static_cast<Eigen::Index>(element.ports.size());
  const auto edge = [&](int in, std::size_t e) {
    return element.y[at(in) * element.edge_count() + e];
  };
  CableMatrix change = CableMatrix::Zero(ports, ports);
  for (std::size_t e = 0; e < element.edge_count(); ++e) {
    const auto& [i, j] = element.edges[e];
    add_edge(change, i, j, edge(state, e) - edge(base[n], e));
  }
  CableMatrix g(ports, ports);
  CableVector p(ports), l(ports);
  for (Eigen::Index i = 0; i < ports; ++i) {
    const int port = element.ports[static_cast<std::size_t>(i)];
    p(i) = here.p(port);
    l(i) = here.l(port);
    for (Eigen::Index j = 0; j < ports; ++j) {
      g(i, j) = here.g(port, element.ports[static_cast<std::size_t>(j)]);
    }
  }
  const CableMatrix answer = CableMatrix::Identity(ports, ports) + g * change;
  p = answer.partialPivLu().solve(p).eval();
  Complex v = here.v - l.cwiseProduct(change * p).sum();
  if (static_cast<int>(n) != problem.own) return v;
  for (std::size_t i = 0; i < element.ports.size(); ++i) {
    const Complex more = problem.tau[at(state) * element.ports.size() + i] -
                         problem.tau[at(base[n]) * element.ports.size() + i];
    v += more * p(static_cast<Eigen::Index>(i));
  }
  return v;
}

}  // namespace evenleg
