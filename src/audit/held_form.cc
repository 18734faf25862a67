#include "src/audit/held_form.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Matrix matrix_of(const Totals& totals, const std::vector<Complex>& sums, Eigen::Index ports) {
  Matrix y = Matrix::Zero(ports, ports);
  for (std::size_t f = 0; f < totals.edges.size(); ++f) {
    const auto [i, j] = totals.edges[f];
    y(i, i) += sums[f];
    if (i == j) continue;
    y(j, j) += sums[f];
    y(i, j) -= sums[f];
    y(j, i) -= sums[f];
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
  const Eigen::Index q = eq.e.size();
  const Matrix y = matrix_of(totals, sums, q);
  const Eigen::Index size = eq.bordered ? q + 1 : q;
  Matrix m = Matrix::Zero(size, size);
  m.topLeftCorner(q, q) = Matrix::Identity(q, q) + eq.z * y;
  Vector rhs = Vector::Zero(size);
  rhs.head(q) = eq.e;
  if (eq.bordered) {
    m.topRightCorner(q, 1) = eq.b;
    m.bottomLeftCorner(1, q) = eq.b.transpose() * y;
    m(q, q) = -eq.g;
  }
  const Vector p = m.partialPivLu().solve(rhs).head(q);
  if (looks_at_volts(problem)) return row_of(problem, totals, sums).cwiseProduct(p).sum();
  return problem.w.cwiseProduct(y * p).sum();
}

HeldForm::HeldForm(const Problem& problem, const Totals& totals,
                   const std::vector<PlaneBox>& ranges, Complex v, int left_out)
    : problem_(problem), totals_(totals) {
  for (const PlaneBox& range : ranges) {
    center_.push_back(range.center());
    radius_.push_back(range.radius());
  }
  const Equations& eq = *problem.equations;
  const Matrix y = matrix_of(totals, center_, eq.e.size());
  const Vector tau = row_of(problem, totals, center_);
  if (!eq.bordered || !looks_at_volts(problem)) {
    linearize_sound(y, tau);
    bound_error();
    return;
  }
  if (left_out == kChoose) left_out = best_way(y, tau, v);
  linearize(y, tau, left_out);
  bound_error();
}

// The way in which V is known best: the error over what a volt counts in r.
int HeldForm::best_way(const Matrix& y, const Vector& tau, Complex v) {
  const Vector& b = problem_.equations->b;
  double least = std::numeric_limits<double>::infinity();
  int best = -1;
  for (int way = kFree; way < static_cast<int>(b.size()); ++way) {
    if (way == kChoose || (way >= 0 && b(way) == Complex{})) continue;
    linearize(y, tau, way);
    bound_error();
    if (!usable_ || rs_ == Complex{}) continue;
    const double error = this->error(v) / std::abs(rs_);
    if (error >= least) continue;
    least = error;
    best = way;
  }
  return best;
}

void HeldForm::linearize(const Matrix& y, const Vector& tau, int left_out) {
  left_out_ = left_out;
  if (left_out == kFree) {
    linearize_sound(y, tau);
  } else {
    linearize_held(y, tau, left_out);
  }
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

void HeldForm::bound_error() {
  const Eigen::Index q = pc_.size();
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(q, q);
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    if (f >= totals_.edges.size()) {
      k.col(totals_.own_ports[f - totals_.edges.size()]) += radius_[f] * ps_.cwiseAbs();
      continue;
    }
    const auto [i, j] = totals_.edges[f];
    if (i == j) {
      k.col(i) += radius_[f] * gz_.col(i).cwiseAbs();
      continue;
    }
    const Eigen::VectorXd between = radius_[f] * (gz_.col(i) - gz_.col(j)).cwiseAbs();
    k.col(i) += between;
    k.col(j) += between;
  }
  // D = K (|p| + D) has a bounded answer when some norm of K is below 1.
  constexpr double kMostGrowth = 0.95;
  const double norm = std::min(k.rowwise().sum().maxCoeff(), k.colwise().sum().maxCoeff());
  usable_ = std::isfinite(norm) && norm < kMostGrowth;
  amplify_ = usable_ ? Eigen::MatrixXd((Eigen::MatrixXd::Identity(q, q) - k).inverse() * k) : k;
}

Eigen::VectorXd HeldForm::drift(const Vector& p) const { return amplify_ * p.cwiseAbs(); }

double HeldForm::sensitivity(std::size_t f) const {
  if (f >= totals_.edges.size()) return std::abs(rs_);
  const auto [i, j] = totals_.edges[f];
  return i == j ? std::abs(a_(i)) : std::abs(a_(i) - a_(j));
}

double HeldForm::drift_of(std::size_t f, const Eigen::VectorXd& d) const {
  if (f >= totals_.edges.size()) return d(totals_.own_ports[f - totals_.edges.size()]);
  const auto [i, j] = totals_.edges[f];
  return i == j ? d(i) : d(i) + d(j);
}

void HeldForm::coefficients(Complex v, std::vector<Complex>& c) const {
  const Vector p = pc_ + v * ps_;
  c.clear();
  for (const auto& [i, j] : totals_.edges) {
    c.push_back(i == j ? a_(i) * p(i) : (a_(i) - a_(j)) * (p(i) - p(j)));
  }
  for (int port : totals_.own_ports) c.push_back(-rs_ * p(port));
}

double HeldForm::error(Complex v) const {
  const Eigen::VectorXd d = drift(pc_ + v * ps_);
  double error = 0;
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    error += sensitivity(f) * radius_[f] * drift_of(f, d);
  }
  return error;
}

std::vector<double> HeldForm::shares(Complex v) const {
  const Vector p = pc_ + v * ps_;
  const Eigen::VectorXd d = drift(p);
  const Eigen::VectorXd whole = p.cwiseAbs() + d;
  Eigen::VectorXd felt = Eigen::VectorXd::Zero(p.size());  // error for each volt of D
  std::vector<double> shares(totals_.size());
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    const double reach = sensitivity(f) * radius_[f];
    shares[f] = reach * drift_of(f, d);
    if (f >= totals_.edges.size()) {
      felt(totals_.own_ports[f - totals_.edges.size()]) += reach;
      continue;
    }
    const auto [i, j] = totals_.edges[f];
    felt(i) += reach;
    if (i != j) felt(j) += reach;
  }
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    if (f >= totals_.edges.size()) {
      const int port = totals_.own_ports[f - totals_.edges.size()];
      shares[f] += radius_[f] * whole(port) * felt.dot(ps_.cwiseAbs());
      continue;
    }
    const auto [i, j] = totals_.edges[f];
    shares[f] += radius_[f] * drift_of(f, whole) *
                 felt.dot(i == j ? Eigen::VectorXd(gz_.col(i).cwiseAbs())
                                 : Eigen::VectorXd((gz_.col(i) - gz_.col(j)).cwiseAbs()));
  }
  return shares;
}

}  // namespace evenleg
