// The point nearest to zero among all mixes of some points, found again each time one is added.
//
// A point's first two coordinates count as they are, the further ones only as far as they are above
// zero (they are inequalities g <= 0). So this is the least norm in conv(points) + cone(-e_k): the least
// squares problem with weights >= 0
//     min |Σ w_i x_i - Σ u_k e_k|² s² + (s - 1)²,   Σ w_i = s,
// whose points are the same for every s > 0 (C. L. Lawson, R. J. Hanson, Solving Least Squares
// Problems, ch. 23, 1974; from memory), solved by their active set method from the last answer.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace evenleg {

class NearestMix {
 public:
  // `dimensions` >= 2.
  explicit NearestMix(std::size_t dimensions);

  void add(const std::vector<double>& point);

  // The nearest point, what does not count taken as zero.
  [[nodiscard]] const std::vector<double>& residual() const { return rest_; }
  // Of each point added; their sum is 1.
  [[nodiscard]] const std::vector<double>& weights() const { return weights_; }

 private:
  void solve();
  [[nodiscard]] Eigen::VectorXd least_squares(const std::vector<int>& columns) const;

  Eigen::Index rows_;      // dimensions and the row of ones
  Eigen::MatrixXd a_;      // the cone's columns, then a column for each point
  Eigen::Index points_ = 0;
  double unit_ = 0;        // points are measured in this, so that 1 is of their size
  std::vector<int> used_;  // columns with a weight above zero
  Eigen::VectorXd weight_;
  std::vector<double> weights_;
  std::vector<double> rest_;
};

}  // namespace evenleg
