// The point of a set that lies nearest to another by the largest difference of any coordinate: a
// binary tree of boxes, each the hull of its points.
//
// Exact: a box is left out only where its every point is further away than what was found. Cost of a
// question: a small part of the points where few lie near.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

namespace evenleg {

class PointTree {
 public:
  // `points`: [point * coordinates + coordinate].
  PointTree(std::vector<double> points, std::size_t coordinates);

  // Calls `consider` with each point within less than `within` of `center`, which returns the
  // distance that counts from then on: less where the point was taken.
  void near(const std::vector<double>& center, double within,
            const std::function<double(std::size_t point, double distance)>& consider) const;

 private:
  struct Node {
    std::size_t from = 0, to = 0;  // of order_
    int low = -1, high = -1;       // nodes; -1: a leaf
  };

  int build(std::size_t from, std::size_t to);
  [[nodiscard]] double to_box(std::size_t node, const double* center, double within) const;

  std::size_t coordinates_ = 0;
  std::vector<double> points_;
  std::vector<std::size_t> order_;
  std::vector<Node> nodes_;
  std::vector<double> boxes_;  // [(node * 2 + end) * coordinates + coordinate]
};

}  // namespace evenleg
