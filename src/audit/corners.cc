#include "src/audit/corners.h"

#include <algorithm>
#include <cstdint>
#include <map>

#include "evenleg/base/index.h"

namespace evenleg {
namespace {

struct PlanePoint {
  double x = 0;
  double y = 0;
  int state = 0;
};

double turn(const PlanePoint& o, const PlanePoint& a, const PlanePoint& b) {
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

// States at the corners of the convex hull (Andrew's monotone chain).
std::vector<int> hull_corners(std::vector<PlanePoint> points) {
  std::sort(points.begin(), points.end(), [](const PlanePoint& a, const PlanePoint& b) {
    return a.x != b.x ? a.x < b.x : (a.y != b.y ? a.y < b.y : a.state < b.state);
  });
  std::vector<PlanePoint> hull;
  for (int side = 0; side < 2; ++side) {
    const std::size_t first = hull.size();
    for (const PlanePoint& point : points) {
      while (hull.size() >= first + 2 &&
             turn(hull[hull.size() - 2], hull.back(), point) <= 0) {
        hull.pop_back();
      }
      hull.push_back(point);
    }
    if (hull.size() > first + 1) hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  std::vector<int> states;
  for (const PlanePoint& point : hull) states.push_back(point.state);
  std::sort(states.begin(), states.end());
  states.erase(std::unique(states.begin(), states.end()), states.end());
  return states;
}

}  // namespace

std::vector<int> corner_states(const Element& element, const std::vector<int>& states) {
  std::map<std::uint32_t, std::vector<PlanePoint>> by_groups;
  for (int s : states) {
    const Complex y = element.y[at(s)];
    by_groups[element.states[at(s)].groups].push_back({y.real(), y.imag(), s});
  }
  std::vector<int> kept;
  for (const auto& [groups, points] : by_groups) {
    const std::vector<int> corners = hull_corners(points);
    kept.insert(kept.end(), corners.begin(), corners.end());
  }
  return kept;
}

}  // namespace evenleg
