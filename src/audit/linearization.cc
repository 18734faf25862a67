#include "src/audit/linearization.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }
Eigen::Index row(int i) { return static_cast<Eigen::Index>(i); }

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

std::vector<std::vector<Complex>> features_of_choice(const Problem& problem,
                                                     const Choice& choice) {
  std::vector<std::vector<Complex>> features(choice.size());
  for (std::size_t n = 0; n < choice.size(); ++n) {
    features_of(problem, n, choice[n], features[n]);
  }
  return features;
}

}  // namespace

std::vector<Cost> turned(const std::vector<Cost>& costs, Complex direction) {
  std::vector<Cost> result(costs.size());
  for (std::size_t n = 0; n < costs.size(); ++n) {
    for (const Complex& c : costs[n].c) result[n].c.push_back(std::conj(direction) * c);
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
  const Vector p = lu.solve(rhs).head(q);
  Vector seen = Vector::Zero(size);
  Vector direct = Vector::Zero(q);
  Gradient result;
  if (looks_at_volts(problem)) {
    seen.head(q) = observation(problem, base);
  } else {
    seen.head(q).noalias() = y.transpose() * problem.w;
    direct = problem.w;
  }
  result.v = seen.head(q).cwiseProduct(p).sum();
  const Vector adjoint = m.transpose().partialPivLu().solve(seen);
  Vector l = eq.z.transpose() * adjoint.head(q);
  if (eq.bordered) l += adjoint(q) * eq.b;
  l -= direct;
  result.costs.resize(base.size());
  for (std::size_t n = 0; n < base.size(); ++n) {
    const bool own = static_cast<int>(n) == problem.own;
    fill_linear((*problem.elements)[n], own, l, p, -1.0, result.costs[n].c);
  }
  return result;
}

HeldForm::HeldForm(const Problem& problem, const Cloud& cloud, const Choice& base)
    : problem_(problem), base_(features_of_choice(problem, base)) {
  const Equations& eq = *problem.equations;
  const Eigen::Index q = eq.e.size();
  const Matrix y = total_admittance(problem, base);
  const Vector tau = observation(problem, base);
  Matrix gz;
  if (eq.bordered && looks_at_volts(problem)) {
    Matrix m(q + 1, q + 1);
    m.topLeftCorner(q, q) = Matrix::Identity(q, q) + eq.z * y;
    m.topRightCorner(q, 1) = eq.b;
    m.bottomLeftCorner(1, q) = tau.transpose();
    m(q, q) = 0;
    const Matrix inverse = m.partialPivLu().inverse();
    const Vector by = y.transpose() * eq.b;
    const auto g = inverse.topLeftCorner(q, q);
    const auto gn = inverse.bottomLeftCorner(1, q);
    pc_ = g * eq.e;
    ps_ = inverse.topRightCorner(q, 1);
    gz = g * eq.z;
    const Complex n_c = (gn * eq.e)(0);
    const Complex n_s = inverse(q, q);
    r0_ = by.cwiseProduct(pc_).sum() - eq.g * n_c;
    rs_ = by.cwiseProduct(ps_).sum() - eq.g * n_s;
    a_ = eq.b - gz.transpose() * by + eq.g * (eq.z.transpose() * gn.transpose());
  } else {
    Matrix m = Matrix::Identity(q, q) + eq.z * y;
    Matrix full = m;
    if (eq.bordered) {  // a sum of currents is looked at: the balance stays
      full.conservativeResize(q + 1, q + 1);
      full.col(q).head(q) = eq.b;
      full.row(q).head(q) = eq.b.transpose() * y;
      full(q, q) = -eq.g;
    }
    const Matrix inverse = full.partialPivLu().inverse();
    const auto g = inverse.topLeftCorner(q, q);
    gz = g * eq.z;
    if (eq.bordered) gz += inverse.topRightCorner(q, 1) * eq.b.transpose();
    pc_ = g * eq.e;
    ps_ = Vector::Zero(q);
    rs_ = 1;
    const Vector seen = looks_at_volts(problem) ? tau : Vector(y.transpose() * problem.w);
    r0_ = -seen.cwiseProduct(pc_).sum();
    a_ = gz.transpose() * seen;
    if (!looks_at_volts(problem)) a_ -= problem.w;
  }
  gz_ = gz;
  use(spread_of(cloud, {}, 0));
}

// With no excess given, over all choices.
HeldForm::Spread HeldForm::spread_of(const Cloud& cloud,
                                     const std::vector<std::vector<double>>& excess,
                                     double mu) const {
  const Eigen::Index q = pc_.size();
  Spread spread{Eigen::MatrixXd::Zero(q, q), Eigen::VectorXd::Zero(q)};
  for (std::size_t n = 0; n < cloud.elements.size(); ++n) {
    const Element& element = (*problem_.elements)[n];
    const PointSet& set = cloud.elements[n];
    for (std::size_t f = 0; f < set.features; ++f) {
      double most = 0;
      for (std::size_t i = 0; i < set.size(); ++i) {
        const double dx = set.re[f * set.size() + i] - base_[n][f].real();
        const double dy = set.im[f * set.size() + i] - base_[n][f].imag();
        const double size = std::sqrt(dx * dx + dy * dy);
        most = std::max(most, excess.empty() ? size : size - mu * excess[n][i]);
      }
      if (f >= element.edge_count()) {
        spread.tau(element.ports[f - element.edge_count()]) += most;
        continue;
      }
      const int i = element.ports[at(element.edges[f].first)];
      const int j = element.ports[at(element.edges[f].second)];
      spread.omega(std::min(i, j), std::max(i, j)) += most;
    }
  }
  return spread;
}

void HeldForm::use(const Spread& spread) {
  spread_ = spread;
  const Eigen::Index q = pc_.size();
  // G Z ΔY p by edges: a hot to neutral takes |p_i|, two hots at most |p_i| + |p_j|.
  Eigen::MatrixXd k = ps_.cwiseAbs() * spread.tau.transpose();
  for (Eigen::Index i = 0; i < q; ++i) {
    k.col(i) += spread.omega(i, i) * gz_.col(i).cwiseAbs();
    for (Eigen::Index j = i + 1; j < q; ++j) {
      if (spread.omega(i, j) == 0) continue;
      const Eigen::VectorXd between = spread.omega(i, j) * (gz_.col(i) - gz_.col(j)).cwiseAbs();
      k.col(i) += between;
      k.col(j) += between;
    }
  }
  // D = K (|p| + D) has a bounded answer when some norm of K is below 1.
  constexpr double kMostGrowth = 0.9;
  const double norm = std::min(k.rowwise().sum().maxCoeff(), k.colwise().sum().maxCoeff());
  usable_ = std::isfinite(norm) && norm < kMostGrowth;
  if (usable_) amplify_ = (Eigen::MatrixXd::Identity(q, q) - k).inverse() * k;
}

double HeldForm::narrow(const Cloud& cloud, const std::vector<Complex>& corners,
                        Complex direction) {
  const Eigen::Index q = pc_.size();
  Spread widest{Eigen::MatrixXd::Zero(q, q), Eigen::VectorXd::Zero(q)};
  std::vector<Cost> element_costs;
  std::vector<std::vector<double>> excess(cloud.elements.size());
  for (const Complex& v : corners) {
    double allowance = 0;
    if (!costs(v, direction, element_costs, allowance)) return 1;
    allowance = -allowance;
    for (std::size_t n = 0; n < excess.size(); ++n) {
      point_costs(cloud.elements[n], element_costs[n], base_[n], excess[n]);
      const double least = *std::min_element(excess[n].begin(), excess[n].end());
      for (double& cost : excess[n]) cost -= least;
      allowance -= least;
    }
    if (allowance < 0) continue;  // nothing attains this corner's V
    Spread here = spread_;
    const double size = spread_.omega.maxCoeff();
    constexpr double kFirstMu = 0.25;  // of the size over the allowance; then doubled
    constexpr int kMus = 6;
    for (int m = 0; m < kMus; ++m) {
      const double mu = std::ldexp(kFirstMu, m) * size / std::max(allowance, 1e-12 * size);
      const Spread next = spread_of(cloud, excess, mu);
      here.omega = here.omega.cwiseMin((next.omega.array() + mu * allowance).matrix());
      here.tau = here.tau.cwiseMin((next.tau.array() + mu * allowance).matrix());
    }
    widest.omega = widest.omega.cwiseMax(here.omega);
    widest.tau = widest.tau.cwiseMax(here.tau);
  }
  if (widest.omega.isZero(0) && widest.tau.isZero(0)) return 0;
  const double before = amplify_.norm();
  use(widest);
  return usable_ && before > 0 ? amplify_.norm() / before : 1;
}

Eigen::VectorXd HeldForm::drift(const Vector& p) const { return amplify_ * p.cwiseAbs(); }

void HeldForm::element_cost(std::size_t n, const Vector& p, const Eigen::VectorXd& d,
                            Cost& cost) const {
  const Element& element = (*problem_.elements)[n];
  const bool own = static_cast<int>(n) == problem_.own;
  fill_linear(element, own, a_, p, -rs_, cost.c);
  cost.w.clear();
  for (const auto& [i, j] : element.edges) {
    const int gi = element.ports[at(i)];
    const int gj = element.ports[at(j)];
    cost.w.push_back(i == j ? std::abs(a_(gi)) * d(gi)
                            : std::abs(a_(gi) - a_(gj)) * (d(gi) + d(gj)));
  }
  if (!own) return;
  for (int port : element.ports) cost.w.push_back(std::abs(rs_) * d(row(port)));
}

bool HeldForm::costs(Complex v, Complex direction, std::vector<Cost>& costs,
                     double& offset) const {
  if (!usable_) return false;
  const Vector p = pc_ + v * ps_;
  const Eigen::VectorXd d = drift(p);
  costs.resize(base_.size());
  for (std::size_t n = 0; n < base_.size(); ++n) {
    element_cost(n, p, d, costs[n]);
    for (Complex& c : costs[n].c) c *= std::conj(direction);
  }
  offset = (std::conj(direction) * (r0_ + v * rs_)).real();
  return true;
}

Complex HeldForm::first_order(Complex v, const Choice& choice, double& error) const {
  const Vector p = pc_ + v * ps_;
  const Eigen::VectorXd d = drift(p);
  Complex r = r0_ + v * rs_;
  error = 0;
  Cost cost;
  std::vector<Complex> features;
  for (std::size_t n = 0; n < base_.size(); ++n) {
    element_cost(n, p, d, cost);
    features_of(problem_, n, choice[n], features);
    for (std::size_t f = 0; f < features.size(); ++f) {
      const Complex change = features[f] - base_[n][f];
      r += cost.c[f] * change;
      error += cost.w[f] * std::abs(change);
    }
  }
  return r;
}

}  // namespace evenleg
