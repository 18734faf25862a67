#include "src/balance/near_point.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace evenleg {
namespace {

constexpr std::size_t kLeaf = 8;  // points

}  // namespace

PointTree::PointTree(std::vector<double> points, std::size_t coordinates)
    : coordinates_(coordinates), points_(std::move(points)) {
  order_.resize(points_.size() / coordinates_);
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  if (!order_.empty()) build(0, order_.size());
}

int PointTree::build(std::size_t from, std::size_t to) {
  const std::size_t node = nodes_.size();
  nodes_.push_back({from, to});
  boxes_.resize(boxes_.size() + 2 * coordinates_);
  double* least = &boxes_[node * 2 * coordinates_];
  double* most = least + coordinates_;
  std::size_t widest = 0;
  for (std::size_t k = 0; k < coordinates_; ++k) {
    least[k] = most[k] = points_[order_[from] * coordinates_ + k];
    for (std::size_t i = from; i < to; ++i) {
      const double x = points_[order_[i] * coordinates_ + k];
      least[k] = std::min(least[k], x);
      most[k] = std::max(most[k], x);
    }
    if (most[k] - least[k] > most[widest] - least[widest]) widest = k;
  }
  if (to - from <= kLeaf) {
    // nth_element leaves the order within its parts open, and ties go to the point found first.
    std::sort(order_.begin() + static_cast<std::ptrdiff_t>(from),
              order_.begin() + static_cast<std::ptrdiff_t>(to));
    return static_cast<int>(node);
  }
  const std::size_t middle = (from + to) / 2;
  const auto begin = order_.begin();
  std::nth_element(begin + static_cast<std::ptrdiff_t>(from),
                   begin + static_cast<std::ptrdiff_t>(middle),
                   begin + static_cast<std::ptrdiff_t>(to), [&](std::size_t a, std::size_t b) {
                     const double x = points_[a * coordinates_ + widest];
                     const double y = points_[b * coordinates_ + widest];
                     return x < y || (x == y && a < b);
                   });
  const int low = build(from, middle);
  const int high = build(middle, to);
  nodes_[node].low = low;
  nodes_[node].high = high;
  return static_cast<int>(node);
}

double PointTree::to_box(std::size_t node, const double* center, double within) const {
  const double* least = &boxes_[node * 2 * coordinates_];
  const double* most = least + coordinates_;
  double furthest = 0;
  for (std::size_t k = 0; k < coordinates_; ++k) {
    const double outside = std::max(least[k] - center[k], center[k] - most[k]);
    if (outside <= furthest) continue;
    furthest = outside;
    if (furthest >= within) return furthest;
  }
  return furthest;
}

void PointTree::near(
    const std::vector<double>& center, double within,
    const std::function<double(std::size_t point, double distance)>& consider) const {
  if (nodes_.empty()) return;
  struct Visit {
    int node;
    double away;
  };
  std::vector<Visit> left{{0, to_box(0, center.data(), within)}};
  while (!left.empty()) {
    const Visit visit = left.back();
    left.pop_back();
    if (visit.away >= within) continue;
    const Node& node = nodes_[static_cast<std::size_t>(visit.node)];
    if (node.low >= 0) {
      Visit near{node.low, to_box(static_cast<std::size_t>(node.low), center.data(), within)};
      Visit far{node.high, to_box(static_cast<std::size_t>(node.high), center.data(), within)};
      if (far.away < near.away) std::swap(near, far);
      left.push_back(far);
      left.push_back(near);
      continue;
    }
    for (std::size_t i = node.from; i < node.to; ++i) {
      const double* point = &points_[order_[i] * coordinates_];
      double distance = 0;
      for (std::size_t k = 0; k < coordinates_ && distance < within; ++k) {
        distance = std::max(distance, std::abs(point[k] - center[k]));
      }
      if (distance < within) within = consider(order_[i], distance);
    }
  }
}

}  // namespace evenleg
