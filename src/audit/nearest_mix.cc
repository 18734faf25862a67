#include "src/audit/nearest_mix.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace evenleg {

NearestMix::NearestMix(std::size_t dimensions)
    : rows_(static_cast<Eigen::Index>(dimensions) + 1), rest_(dimensions, 0.0) {
  const Eigen::Index cuts = rows_ - 3;
  a_ = Eigen::MatrixXd::Zero(rows_, cuts);
  for (Eigen::Index k = 0; k < cuts; ++k) a_(2 + k, k) = 1;  // slack: takes a g below zero up to it
  weight_ = Eigen::VectorXd::Zero(cuts);
}

void NearestMix::add(const std::vector<double>& point) {
  if (points_ == 0) {
    double size = 0;
    for (double x : point) size += x * x;
    unit_ = size > 0 ? std::sqrt(size) : 1;
  }
  const Eigen::Index column = a_.cols();
  a_.conservativeResize(Eigen::NoChange, column + 1);
  for (Eigen::Index k = 0; k + 1 < rows_; ++k) {
    a_(k, column) = point[static_cast<std::size_t>(k)] / unit_;
  }
  a_(rows_ - 1, column) = 1;
  weight_.conservativeResize(column + 1);
  weight_(column) = 0;
  ++points_;
  solve();
}

Eigen::VectorXd NearestMix::least_squares(const std::vector<int>& columns) const {
  Eigen::MatrixXd part(rows_, static_cast<Eigen::Index>(columns.size()));
  for (std::size_t i = 0; i < columns.size(); ++i) {
    part.col(static_cast<Eigen::Index>(i)) = a_.col(columns[i]);
  }
  Eigen::VectorXd target = Eigen::VectorXd::Zero(rows_);
  target(rows_ - 1) = 1;
  return part.colPivHouseholderQr().solve(target);
}

void NearestMix::solve() {
  constexpr double kSettled = 1e-12;
  constexpr int kMostSteps = 60;
  Eigen::VectorXd target = Eigen::VectorXd::Zero(rows_);
  target(rows_ - 1) = 1;
  for (int step = 0; step < kMostSteps; ++step) {
    const Eigen::VectorXd gain = a_.transpose() * (target - a_ * weight_);
    int entering = -1;
    double most = kSettled;
    for (Eigen::Index j = 0; j < a_.cols(); ++j) {
      const bool in = std::find(used_.begin(), used_.end(), static_cast<int>(j)) != used_.end();
      if (in || gain(j) <= most) continue;
      most = gain(j);
      entering = static_cast<int>(j);
    }
    if (entering < 0) break;
    used_.push_back(entering);
    for (int inner = 0; inner < kMostSteps; ++inner) {
      const Eigen::VectorXd next = least_squares(used_);
      double reach = 1;  // how far towards `next` no weight falls below zero
      for (std::size_t i = 0; i < used_.size(); ++i) {
        const double to = next(static_cast<Eigen::Index>(i));
        const double from = weight_(used_[i]);
        if (to <= 0) reach = std::min(reach, from > to ? from / (from - to) : 0.0);
      }
      std::vector<int> kept;
      for (std::size_t i = 0; i < used_.size(); ++i) {
        double& w = weight_(used_[i]);
        const double to = next(static_cast<Eigen::Index>(i));
        w += reach * (to - w);
        if (to <= 0 && w <= kSettled) {
          w = 0;
        } else {
          kept.push_back(used_[i]);
        }
      }
      const bool all = kept.size() == used_.size();
      used_ = std::move(kept);
      if (all && reach == 1) break;
      if (used_.empty()) break;
    }
  }
  const Eigen::Index cuts = rows_ - 3;
  const double whole = weight_.tail(points_).sum();
  weights_.assign(static_cast<std::size_t>(points_), 0.0);
  if (whole <= 0) {
    weights_.back() = 1;
  } else {
    for (Eigen::Index i = 0; i < points_; ++i) {
      weights_[static_cast<std::size_t>(i)] = weight_(cuts + i) / whole;
    }
  }
  std::fill(rest_.begin(), rest_.end(), 0.0);
  for (Eigen::Index i = 0; i < points_; ++i) {
    for (Eigen::Index k = 0; k + 1 < rows_; ++k) {
      rest_[static_cast<std::size_t>(k)] +=
          weights_[static_cast<std::size_t>(i)] * unit_ * a_(k, cuts + i);
    }
  }
  for (std::size_t k = 2; k < rest_.size(); ++k) rest_[k] = std::max(rest_[k], 0.0);
}

}  // namespace evenleg
