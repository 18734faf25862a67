#include "src/diagnose/fit.h"

#include <Eigen/SVD>
#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Volts by a step of the scale (a tenth of an ohm) along a direction: 0.2 A through a conductor.
// Below, meter noise would leave the direction open by some tenths of an ohm.
constexpr double kFelt = 0.02;
// How far a direction that is not felt may lead, in scaled parameters: 1 Ω of a resistance, which
// no conductor that works is off by; and what that may turn of a combination for it to be told
// still.
constexpr double kUnfeltReach = 10;
constexpr double kToldWithin = 0.01;  // ohms, volts
constexpr int kMostSteps = 25;
constexpr int kMostHalvings = 6;
constexpr double kSettled = 1e-9;  // step, of the scale
// Of the sum of squares, that a step must still gain: it then moves an estimate by a thousandth of
// its standard error.
constexpr double kLevel = 1e-6;
constexpr double kPriorCount = 2;
constexpr double kPriorVolts = 0.05;

struct Svd {
  MatrixXd u, v;
  VectorXd s;
};

// With the directions that are not felt left out.
Svd felt_part(const MatrixXd& jacobian, const VectorXd& scale) {
  const MatrixXd scaled = jacobian * scale.asDiagonal();
  const Eigen::JacobiSVD<MatrixXd> svd(scaled, Eigen::ComputeThinU | Eigen::ComputeThinV);
  const VectorXd& s = svd.singularValues();
  Index rank = 0;
  while (rank < s.size() && s(rank) > kFelt) ++rank;
  return {svd.matrixU().leftCols(rank), svd.matrixV().leftCols(rank), s.head(rank)};
}

MatrixXd inverse_of(const Svd& svd, const VectorXd& scale) {
  return scale.asDiagonal() * (svd.v * svd.s.cwiseInverse().asDiagonal() * svd.u.transpose());
}

}  // namespace

MatrixXd felt_beside(const Felt& felt, const MatrixXd& slopes, const VectorXd& scale) {
  MatrixXd scaled = slopes * scale.asDiagonal();
  scaled -= (scaled * felt.basis) * felt.basis.transpose();
  const Eigen::JacobiSVD<MatrixXd> svd(scaled, Eigen::ComputeThinV);
  Index rank = 0;
  while (rank < svd.singularValues().size() && svd.singularValues()(rank) > felt.floor) ++rank;
  return svd.matrixV().leftCols(rank);
}

double untold(const Felt& felt, const MatrixXd& more, const VectorXd& scale, const VectorXd& c) {
  const VectorXd scaled = scale.cwiseProduct(c);
  VectorXd left = scaled - felt.basis * (felt.basis.transpose() * scaled);
  if (more.cols() > 0) left -= more * (more.transpose() * left);
  return kUnfeltReach * left.norm();
}

bool is_told(const Felt& felt, const MatrixXd& more, const VectorXd& scale, const VectorXd& c) {
  return untold(felt, more, scale, c) < kToldWithin;
}

Fit fit(const FitProblem& problem) {
  Fit result;
  VectorXd x = problem.start;
  Prediction now = problem.predict(x);
  VectorXd residuals = problem.measured - now.values;
  for (int step = 0; step < kMostSteps && !result.converged; ++step) {
    const Svd svd = felt_part(now.slopes, problem.scale);
    VectorXd move = inverse_of(svd, problem.scale) * residuals;
    const double before = residuals.squaredNorm();
    bool better = false;
    for (int half = 0; half < kMostHalvings && !better; ++half, move /= 2) {
      Prediction next = problem.predict(x + move);
      const VectorXd left = problem.measured - next.values;
      better = left.allFinite() && left.squaredNorm() <= residuals.squaredNorm();
      if (!better) continue;
      x += move;
      residuals = left;
      now = std::move(next);
    }
    const bool still = move.cwiseQuotient(problem.scale).norm() < kSettled;
    const bool level = before - residuals.squaredNorm() <= kLevel * before;
    result.converged = !better || still || level;
  }
  const Svd svd = felt_part(now.slopes, problem.scale);
  result.x = x;
  result.residuals = residuals;
  result.inverse = inverse_of(svd, problem.scale);
  result.felt = {svd.v, kFelt};
  result.scale = problem.scale;
  result.own_errors = problem.own_errors;
  result.gains = problem.gains;
  result.clamp_gain = problem.clamp_gain;
  const double spare = static_cast<double>(residuals.size() - svd.s.size()) + kPriorCount;
  result.residual_spread =
      std::sqrt((residuals.squaredNorm() + kPriorCount * kPriorVolts * kPriorVolts) / spare);
  return result;
}

std::optional<Estimate> estimate(const Fit& fit, const VectorXd& c) {
  const double open = untold(fit.felt, {}, fit.scale, c);
  if (open >= kToldWithin) return std::nullopt;
  const VectorXd weights = fit.inverse.transpose() * c;  // of each datum in cᵀx
  const double by_residuals = fit.residual_spread * weights.norm();
  const double resistances = c.tail(c.size() - 1).dot(fit.x.tail(c.size() - 1));
  const double by_accuracy = std::sqrt(weights.cwiseProduct(fit.own_errors).squaredNorm() +
                                       (fit.gains.transpose() * weights).squaredNorm() +
                                       std::pow(fit.clamp_gain * resistances, 2));
  return Estimate{c.dot(fit.x), std::hypot(open, std::max(by_residuals, by_accuracy))};
}

}  // namespace evenleg
