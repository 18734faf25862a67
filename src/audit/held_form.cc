#include "src/audit/held_form.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

Matrix matrix_of(const Totals& totals, const std::vector<Complex>& sums, Eigen::Index ports) {
  Matrix y = Matrix::Zero(ports, ports);
  for (std::size_t f = 0; f < totals.edges.size(); ++f) {
    const auto [i, j] = totals.edges[f];
    add_edge(y, i, j, sums[f]);
  }
  return y;
}

Vector row_of(const Problem& problem, const Totals& totals, const std::vector<Complex>& sums) {
  if (problem.row.size() > 0) return problem.row;
  Vector row = Vector::Zero(problem.equations->e.size());
  for (std::size_t i = 0; i < totals.own_ports.size(); ++i) {
    row(totals.own_ports[i]) = sums[totals.edges.size() + i];
  }
  return row;
}

}  // namespace

double PlaneBox::radius() const { return std::hypot(re_most - re_least, im_most - im_least) / 2; }

Totals totals_of(const Problem& problem) {
  Totals totals;
  for (const Element& element : *problem.elements) {
    for (const auto& [i, j] : element.edges) {
      const std::pair<int, int> pair = std::minmax(element.ports[at(i)], element.ports[at(j)]);
      if (std::find(totals.edges.begin(), totals.edges.end(), pair) == totals.edges.end()) {
        totals.edges.push_back(pair);
      }
    }
  }
  if (problem.own >= 0) totals.own_ports = (*problem.elements)[at(problem.own)].ports;
  for (std::size_t n = 0; n < problem.elements->size(); ++n) {
    const Element& element = (*problem.elements)[n];
    std::vector<int>& features = totals.of_element.emplace_back();
    for (const auto& [i, j] : element.edges) {
      const std::pair<int, int> pair = std::minmax(element.ports[at(i)], element.ports[at(j)]);
      features.push_back(static_cast<int>(
          std::find(totals.edges.begin(), totals.edges.end(), pair) - totals.edges.begin()));
    }
    if (static_cast<int>(n) != problem.own) continue;
    for (std::size_t i = 0; i < element.ports.size(); ++i) {
      features.push_back(static_cast<int>(totals.edges.size() + i));
    }
  }
  return totals;
}

std::vector<PlaneBox> ranges_of(const Totals& totals, const Cloud& cloud) {
  std::vector<PlaneBox> ranges(totals.size());
  for (std::size_t n = 0; n < cloud.elements.size(); ++n) {
    const PointSet& set = cloud.elements[n];
    if (set.size() == 0) continue;
    for (std::size_t f = 0; f < set.features; ++f) {
      PlaneBox& range = ranges[at(totals.of_element[n][f])];
      const auto first = static_cast<std::ptrdiff_t>(f * set.size());
      const auto last = static_cast<std::ptrdiff_t>((f + 1) * set.size());
      const auto re = std::minmax_element(set.re.begin() + first, set.re.begin() + last);
      const auto im = std::minmax_element(set.im.begin() + first, set.im.begin() + last);
      range.re_least += *re.first;
      range.re_most += *re.second;
      range.im_least += *im.first;
      range.im_most += *im.second;
    }
  }
  return ranges;
}

Complex value_of_totals(const Problem& problem, const Totals& totals,
                        const std::vector<Complex>& sums) {
  const Equations& eq = *problem.equations;
  const Matrix y = matrix_of(totals, sums, eq.e.size());
  const Vector p = port_volts(eq, y, eq.bordered);
  if (looks_at_volts(problem)) return row_of(problem, totals, sums).cwiseProduct(p).sum();
  return problem.w.cwiseProduct(y * p).sum();
}

std::vector<Base> central(const std::vector<PlaneBox>& ranges) {
  std::vector<Base> bases;
  for (const PlaneBox& range : ranges) bases.push_back({range.center(), range.radius(), false});
  return bases;
}

std::optional<Complex> share_of_joint(const Problem& problem) {
  const Equations& eq = *problem.equations;
  if (looks_at_volts(problem) || !eq.bordered || eq.g == Complex{}) return std::nullopt;
  Complex share{};
  for (Eigen::Index i = 0; i < eq.b.size(); ++i) {
    if (eq.b(i) != Complex{}) share = problem.w(i) / eq.b(i);
  }
  if (share == Complex{} || problem.w != Vector(share * eq.b)) return std::nullopt;
  return share;
}

std::vector<int> ways_of(const Problem& problem) {
  const Equations& eq = *problem.equations;
  std::vector<int> ways{HeldForm::kFree};
  if (share_of_joint(problem)) ways.push_back(HeldForm::kJoint);
  if (!eq.bordered || !looks_at_volts(problem)) return ways;
  ways.push_back(HeldForm::kNone);
  for (int port = 0; port < static_cast<int>(eq.b.size()); ++port) {
    if (eq.b(port) != Complex{}) ways.push_back(port);
  }
  return ways;
}

HeldForm::HeldForm(const Problem& problem, const Totals& totals, std::vector<Base> bases,
                   int left_out)
    : problem_(problem), totals_(totals), bases_(std::move(bases)), left_out_(left_out) {
  std::vector<Complex> center;
  for (const Base& base : bases_) center.push_back(base.center);
  const Matrix y = matrix_of(totals, center, problem.equations->e.size());
  const Vector tau = row_of(problem, totals, center);
  if (left_out == kFree) {
    linearize_sound(y, tau);
  } else if (left_out == kJoint) {
    linearize_joint(y);
  } else {
    linearize_held(y, tau, left_out);
  }
  bound_error();
}

double HeldForm::error_in_v(Complex v) const {
  if (!usable_ || rs_ == Complex{}) return std::numeric_limits<double>::infinity();
  std::vector<double> prices;
  double error = this->error(v, prices);
  for (std::size_t f = 0; f < prices.size(); ++f) error += prices[f] * bases_[f].radius;
  return error / std::abs(rs_);
}

void HeldForm::linearize_held(const Matrix& y, const Vector& tau, int left_out) {
  const Equations& eq = *problem_.equations;
  const Eigen::Index q = eq.e.size();
  Matrix z = eq.z;
  Vector displaced = eq.b;
  if (left_out >= 0) {
    const Vector column = eq.z.col(left_out);
    z -= column * eq.b.transpose();
    displaced += eq.g * column;
  }
  Matrix m(q + 1, q + 1);
  m.topLeftCorner(q, q) = Matrix::Identity(q, q) + z * y;
  m.topRightCorner(q, 1) = displaced;
  m.bottomLeftCorner(1, q) = tau.transpose();
  m(q, q) = 0;
  const Matrix inverse = m.partialPivLu().inverse();
  const Vector by = y.transpose() * eq.b;
  const auto g = inverse.topLeftCorner(q, q);
  const auto gn = inverse.bottomLeftCorner(1, q);
  pc_ = g * eq.e;
  ps_ = inverse.topRightCorner(q, 1);
  gz_ = g * z;
  const Complex n_c = (gn * eq.e)(0);
  const Complex n_s = inverse(q, q);
  r0_ = by.cwiseProduct(pc_).sum() - eq.g * n_c;
  rs_ = by.cwiseProduct(ps_).sum() - eq.g * n_s;
  a_ = eq.b - gz_.transpose() * by + eq.g * (z.transpose() * gn.transpose());
}

void HeldForm::linearize_sound(const Matrix& y, const Vector& tau) {
  const Equations& eq = *problem_.equations;
  const Eigen::Index q = eq.e.size();
  Matrix m = Matrix::Identity(q, q) + eq.z * y;
  if (eq.bordered) {  // the balance stays
    m.conservativeResize(q + 1, q + 1);
    m.col(q).head(q) = eq.b;
    m.row(q).head(q) = eq.b.transpose() * y;
    m(q, q) = -eq.g;
  }
  const Matrix inverse = m.partialPivLu().inverse();
  const auto g = inverse.topLeftCorner(q, q);
  gz_ = g * eq.z;
  if (eq.bordered) gz_ += inverse.topRightCorner(q, 1) * eq.b.transpose();
  pc_ = g * eq.e;
  ps_ = Vector::Zero(q);
  rs_ = 1;
  const Vector seen = looks_at_volts(problem_) ? tau : Vector(y.transpose() * problem_.w);
  r0_ = -seen.cwiseProduct(pc_).sum();
  a_ = gz_.transpose() * seen;
  if (!looks_at_volts(problem_)) a_ -= problem_.w;
}

void HeldForm::linearize_joint(const Matrix& y) {
  const Equations& eq = *problem_.equations;
  const Eigen::Index q = eq.e.size();
  const Complex share = *share_of_joint(problem_);
  const Matrix g = (Matrix::Identity(q, q) + eq.z * y).partialPivLu().inverse();
  gz_ = g * eq.z;
  pc_ = g * eq.e;
  ps_ = g * eq.b * (-1.0 / (share * eq.g));
  const Vector by = y.transpose() * eq.b;
  r0_ = by.cwiseProduct(pc_).sum();
  rs_ = by.cwiseProduct(ps_).sum() - 1.0 / share;
  a_ = eq.b - gz_.transpose() * by;
}

// Where V hardly depends on the neutral's balance, as across two legs, holding it in place of the
// balance asks for volts out of all proportion, and rounding would decide.
bool HeldForm::well_held() const {
  constexpr double kMostVolts = 1e5;  // at any port for a volt of V
  return ps_.cwiseAbs().maxCoeff() < kMostVolts;
}

void HeldForm::bound_error() {
  const Eigen::Index q = pc_.size();
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(q, q);
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    const double radius = bases_[f].radius;
    if (f >= totals_.edges.size()) {
      k.col(totals_.own_ports[f - totals_.edges.size()]) += radius * ps_.cwiseAbs();
      continue;
    }
    const auto [i, j] = totals_.edges[f];
    if (i == j) {
      k.col(i) += radius * gz_.col(i).cwiseAbs();
      continue;
    }
    const Eigen::VectorXd between = radius * (gz_.col(i) - gz_.col(j)).cwiseAbs();
    k.col(i) += between;
    k.col(j) += between;
  }
  // D = K (|p| + D) has a bounded answer when some norm of K is below 1.
  constexpr double kMostGrowth = 0.95;
  const double norm = std::min(k.rowwise().sum().maxCoeff(), k.colwise().sum().maxCoeff());
  usable_ = std::isfinite(norm) && norm < kMostGrowth && well_held();
  amplify_ = usable_ ? Eigen::MatrixXd((Eigen::MatrixXd::Identity(q, q) - k).inverse() * k) : k;
  const auto count = static_cast<Eigen::Index>(totals_.size());
  weights_.resize(count, count);
  for (Eigen::Index f = 0; f < count; ++f) {
    double sensitivity = std::abs(rs_);
    if (static_cast<std::size_t>(f) < totals_.edges.size()) {
      const auto [i, j] = totals_.edges[static_cast<std::size_t>(f)];
      sensitivity = i == j ? std::abs(a_(i)) : std::abs(a_(i) - a_(j));
    }
    for (Eigen::Index g = 0; g < count; ++g) {
      weights_(f, g) =
          sensitivity *
          std::abs(response(static_cast<std::size_t>(f), static_cast<std::size_t>(g)));
    }
  }
}

// Volts at f (between two hots: their difference) for an ampere, or for τ a volt, of g.
Complex HeldForm::response(std::size_t f, std::size_t g) const {
  const auto at_port = [&](int port) {
    if (g >= totals_.edges.size()) return ps_(port);
    const auto [i, j] = totals_.edges[g];
    return i == j ? gz_(port, i) : gz_(port, i) - gz_(port, j);
  };
  if (f >= totals_.edges.size()) return at_port(totals_.own_ports[f - totals_.edges.size()]);
  const auto [i, j] = totals_.edges[f];
  return i == j ? at_port(i) : at_port(i) - at_port(j);
}

Eigen::VectorXd HeldForm::most_volts(Complex v) const {
  const Vector p = pc_ + v * ps_;
  const Eigen::VectorXd d = amplify_ * p.cwiseAbs();
  Eigen::VectorXd most(static_cast<Eigen::Index>(totals_.size()));
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    double& here = most(static_cast<Eigen::Index>(f));
    if (f >= totals_.edges.size()) {
      const int port = totals_.own_ports[f - totals_.edges.size()];
      here = std::abs(p(port)) + d(port);
      continue;
    }
    const auto [i, j] = totals_.edges[f];
    here = i == j ? std::abs(p(i)) + d(i) : std::abs(p(i) - p(j)) + d(i) + d(j);
  }
  return most;
}

void HeldForm::coefficients(Complex v, std::vector<Complex>& c) const {
  const Vector p = pc_ + v * ps_;
  c.clear();
  for (const auto& [i, j] : totals_.edges) {
    c.push_back(i == j ? a_(i) * p(i) : (a_(i) - a_(j)) * (p(i) - p(j)));
  }
  for (int port : totals_.own_ports) c.push_back(-rs_ * p(port));
}

double HeldForm::error(Complex v, std::vector<double>& prices) const {
  const Eigen::VectorXd most = most_volts(v);
  double shared = 0;
  prices.assign(totals_.size(), 0.0);
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    for (std::size_t g = 0; g < totals_.size(); ++g) {
      const Base& a = bases_[f];
      const Base& b = bases_[g];
      const double weight =
          weights_(static_cast<Eigen::Index>(f), static_cast<Eigen::Index>(g)) *
          most(static_cast<Eigen::Index>(g));
      if (a.priced && b.priced) {  // half of it to each
        prices[f] += weight * b.radius / 2;
        prices[g] += weight * a.radius / 2;
      } else if (a.priced) {
        prices[f] += weight * b.radius;
      } else if (b.priced) {
        prices[g] += weight * a.radius;
      } else {
        shared += weight * a.radius * b.radius;
      }
    }
  }
  return shared;
}

std::vector<double> HeldForm::shares(Complex v) const {
  const Eigen::VectorXd most = most_volts(v);
  std::vector<double> shares(totals_.size());
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    for (std::size_t g = 0; g < totals_.size(); ++g) {
      const double part = weights_(static_cast<Eigen::Index>(f), static_cast<Eigen::Index>(g)) *
                          most(static_cast<Eigen::Index>(g)) * bases_[f].radius *
                          bases_[g].radius;
      shares[f] += part;
      if (f != g) shares[g] += part;
    }
  }
  return shares;
}

}  // namespace evenleg
