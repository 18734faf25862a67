#include "src/diagnose/log_ohms.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

using Eigen::Index;
using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

constexpr std::size_t kFewest = 12;  // changes; judgement: four for each unknown
constexpr int kRounds = 20;
constexpr double kHuber = 1.345;  // 95 % as efficient on normal errors (P. J. Huber; from memory)
constexpr double kMadToSigma = 1.4826;  // of normal errors
constexpr double kLeastCondition = 1e-6;
constexpr double kLeastSpread = 1e-4;  // volts: below any recorder's step

struct System {
  MatrixXd a;
  VectorXd b;
};

System equations(const std::vector<LogChange>& changes, double cosine) {
  const auto rows = static_cast<Index>(2 * changes.size());
  System system{MatrixXd(rows, 3), VectorXd(rows)};
  for (std::size_t k = 0; k < changes.size(); ++k) {
    const double i1 = changes[k].amps[0];
    const double i2 = changes[k].amps[1];
    const auto row = static_cast<Index>(2 * k);
    system.a.row(row) << -i1, 0, -(i1 + i2 * cosine);
    system.a.row(row + 1) << 0, -i2, -(i2 + i1 * cosine);
    system.b(row) = changes[k].volts[0];
    system.b(row + 1) = changes[k].volts[1];
  }
  return system;
}

double spread_of(VectorXd residuals) {
  residuals = residuals.cwiseAbs();
  const auto middle = residuals.begin() + residuals.size() / 2;
  std::nth_element(residuals.begin(), middle, residuals.end());
  return std::max(kLeastSpread, kMadToSigma * *middle);
}

}  // namespace

std::optional<OhmsEstimate> ohms_from_changes(const std::vector<LogChange>& changes,
                                              double cosine) {
  if (changes.size() < kFewest) return std::nullopt;
  const System system = equations(changes, cosine);
  VectorXd weights = VectorXd::Ones(system.b.size());
  Vector3d x = Vector3d::Zero();
  Matrix3d normal;
  double spread = kLeastSpread;
  for (int round = 0; round < kRounds; ++round) {
    normal = system.a.transpose() * weights.asDiagonal() * system.a;
    const Eigen::SelfAdjointEigenSolver<Matrix3d> eigen(normal);
    if (eigen.eigenvalues()(0) < kLeastCondition * eigen.eigenvalues()(2)) return std::nullopt;
    const Vector3d next =
        normal.ldlt().solve(system.a.transpose() * (weights.asDiagonal() * system.b));
    const VectorXd residuals = system.b - system.a * next;
    spread = spread_of(residuals);
    for (Index i = 0; i < weights.size(); ++i) {
      const double size = std::abs(residuals(i)) / (kHuber * spread);
      weights(i) = size <= 1 ? 1 : 1 / size;
    }
    const bool settled = (next - x).norm() < 1e-9;
    x = next;
    if (settled) break;
  }
  // Huber's weights leave the covariance near s² (AᵀWA)⁻¹, s from the weighted residuals.
  const VectorXd residuals = system.b - system.a * x;
  const double sum = (weights.asDiagonal() * residuals).dot(residuals);
  const double freedom = static_cast<double>(system.b.size() - 3);
  const Matrix3d covariance = sum / freedom * normal.inverse();
  return OhmsEstimate{x(0), x(1), x(2), std::sqrt(covariance(2, 2)),
                      static_cast<int>(changes.size())};
}

}  // namespace evenleg
