// Least squares for a model that is nearly linear, and what of it the data can tell.
//
// Gauss-Newton with halved steps, from `start`. Directions that no datum feels stay at `start`: the
// singular values of the (scaled) Jacobian below kFelt count as none. A combination
// cᵀx is told only when it has next to no part in such a direction (untold()), and what is left
// open widens its standard error.
//
// Standard error: the larger of
//   residuals: s² cᵀ(JᵀJ)⁺c with s² = (RSS + kPriorCount kPriorVolts²) / (m - rank + kPriorCount):
//     few residuals can agree by chance, so that two of half the last digit of a meter that shows
//     tenths are counted in;
//   stated accuracy: through the same linear map, own errors independent, each gain common to its
//     instrument, a clamp's gain turning resistances the other way.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <optional>

namespace evenleg {

struct Prediction {
  Eigen::VectorXd values;
  Eigen::MatrixXd slopes;  // values by parameters
};

struct FitProblem {
  std::function<Prediction(const Eigen::VectorXd&)> predict;
  Eigen::VectorXd measured;
  Eigen::VectorXd start;
  Eigen::VectorXd scale;       // of each parameter: a step that matters
  Eigen::VectorXd own_errors;  // standard deviation of each datum
  Eigen::MatrixXd gains;       // a column for each instrument: standard deviation of each datum
  double clamp_gain = 0;       // of the currents, standard deviation per unit
};

struct Estimate {
  double value = 0;
  double standard_error = 0;
};

// The directions that data feel: orthonormal columns, in scaled parameters, and the singular value
// from which a direction counts as felt.
struct Felt {
  Eigen::MatrixXd basis;
  double floor = 0;
};
// The directions that further data (rows: slopes) would add to them.
[[nodiscard]] Eigen::MatrixXd felt_beside(const Felt& felt, const Eigen::MatrixXd& slopes,
                                          const Eigen::VectorXd& scale);
// How far cᵀx is open, in its own units, while every direction that neither they nor `more` (at
// right angles to them) feel may lead as far as an ohm.
[[nodiscard]] double untold(const Felt& felt, const Eigen::MatrixXd& more,
                            const Eigen::VectorXd& scale, const Eigen::VectorXd& c);
// Whether that is less than 0.01 Ω.
[[nodiscard]] bool is_told(const Felt& felt, const Eigen::MatrixXd& more,
                           const Eigen::VectorXd& scale, const Eigen::VectorXd& c);

struct Fit {
  Eigen::VectorXd x;
  Eigen::VectorXd residuals;  // measured less predicted
  Eigen::MatrixXd inverse;    // J⁺, scaled back
  Felt felt;
  Eigen::VectorXd scale;
  Eigen::VectorXd own_errors;
  Eigen::MatrixXd gains;
  double clamp_gain = 0;
  double residual_spread = 0;  // s
  bool converged = false;
};

[[nodiscard]] Fit fit(const FitProblem& problem);

// cᵀx, the first parameter not turned by the clamp's gain; nothing when the data do not tell it.
[[nodiscard]] std::optional<Estimate> estimate(const Fit& fit, const Eigen::VectorXd& c);

}  // namespace evenleg
