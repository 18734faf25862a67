#include "src/balance/near_point.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/network/dice.h"

namespace evenleg {
namespace {

TEST_CASE("nearest by the largest difference: as a look at every point finds it") {
  Dice dice(7);
  for (int coordinates : {1, 3, 8}) {
    const auto count = static_cast<std::size_t>(coordinates);
    std::vector<double> points;
    for (std::size_t i = 0; i < 500 * count; ++i) points.push_back(dice.between(-20, 20));
    const PointTree tree(points, count);
    for (int question = 0; question < 200; ++question) {
      std::vector<double> center;
      for (std::size_t k = 0; k < count; ++k) center.push_back(dice.between(-25, 25));
      double nearest = 1e9;
      for (std::size_t i = 0; i < 500; ++i) {
        double distance = 0;
        for (std::size_t k = 0; k < count; ++k) {
          distance = std::max(distance, std::abs(points[i * count + k] - center[k]));
        }
        nearest = std::min(nearest, distance);
      }
      double found = 1e9;
      tree.near(center, found, [&](std::size_t, double distance) { return found = distance; });
      CHECK(found == nearest);
      // Refusing the nearest, the second is found.
      double second = 1e9;
      tree.near(center, 1e9, [&](std::size_t, double distance) {
        if (distance > nearest) second = std::min(second, distance);
        return second;
      });
      CHECK(second > nearest);
    }
  }
}

}  // namespace
}  // namespace evenleg
