// The nearest point of a hull, by hand.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "src/audit/nearest_mix.h"
#include "tests/check.h"
#include "tests/network/dice.h"

namespace evenleg {
namespace {

constexpr double kRounding = 1e-9;

NearestMix mix_of(const std::vector<std::vector<double>>& points) {
  NearestMix mix(points.front().size());
  for (const std::vector<double>& point : points) mix.add(point);
  return mix;
}

TEST_CASE("nearest mix: one point is its own") {
  const NearestMix mix = mix_of({{3, 4}});
  CHECK(close(mix.residual()[0], 3, kRounding));
  CHECK(close(mix.residual()[1], 4, kRounding));
  CHECK(close(mix.weights()[0], 1, kRounding));
}

TEST_CASE("nearest mix: the foot of the perpendicular on a side") {
  // On the line x + 2 y = 2 the foot is (2, 4) / 5: 1/5 of the first point and 4/5 of the second.
  const NearestMix mix = mix_of({{2, 0}, {0, 1}, {5, 5}});
  CHECK(close(mix.residual()[0], 0.4, kRounding));
  CHECK(close(mix.residual()[1], 0.8, kRounding));
  CHECK(close(mix.weights()[0], 0.2, kRounding));
  CHECK(close(mix.weights()[1], 0.8, kRounding));
  CHECK(close(mix.weights()[2], 0, kRounding));
}

TEST_CASE("nearest mix: zero inside a triangle is reached") {
  const NearestMix mix = mix_of({{1, 0}, {-1, 1}, {-1, -2}});
  CHECK(close(std::hypot(mix.residual()[0], mix.residual()[1]), 0, kRounding));
}

TEST_CASE("nearest mix: an inequality counts only above zero") {
  // With weight w on the second, (3 - 2w)² + max(0, 2w - 1)² is least where 2w - 1 = 3 - 2w, at w = 1.
  const NearestMix mix = mix_of({{3, 0, -1}, {1, 0, 1}});
  CHECK(close(mix.residual()[0], 1, kRounding));
  CHECK(close(mix.residual()[2], 1, kRounding));
  // Twice as strict: (3 - 2w)² + (3w - 1)² is least at w = 9/13.
  const NearestMix strict = mix_of({{3, 0, -1}, {1, 0, 2}});
  CHECK(close(strict.weights()[1], 9.0 / 13, kRounding));
  CHECK(close(strict.residual()[0], 3 - 18.0 / 13, kRounding));
  CHECK(close(strict.residual()[2], 27.0 / 13 - 1, kRounding));
}

TEST_CASE("nearest mix: no point lies behind the nearest one") {
  // What marks the least norm x of a hull: x · p >= x · x for every point p.
  Dice dice(11);
  for (int run = 0; run < 200; ++run) {
    const auto dimensions = static_cast<std::size_t>(dice.whole(2, 6));
    std::vector<std::vector<double>> points;
    for (int p = dice.whole(1, 12); p > 0; --p) {
      std::vector<double>& point = points.emplace_back();
      for (std::size_t k = 0; k < dimensions; ++k) point.push_back(dice.between(-1, 3));
    }
    const NearestMix mix = mix_of(points);
    const std::vector<double>& x = mix.residual();
    double size = 0;
    for (double k : x) size += k * k;
    double weights = 0;
    for (double w : mix.weights()) {
      CHECK(w >= 0);
      weights += w;
    }
    CHECK(close(weights, 1, kRounding));
    for (const std::vector<double>& point : points) {
      double along = 0;
      for (std::size_t k = 0; k < dimensions; ++k) along += x[k] * point[k];
      CHECK(along >= size - 1e-7);
    }
  }
}

}  // namespace
}  // namespace evenleg
