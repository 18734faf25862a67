#include "src/audit/cell.h"

#include <algorithm>
#include <cmath>

namespace evenleg {
namespace {

constexpr int kSides = 4;

// The inequality that a side of a range is: 0 and 1 its real ends, 2 and 3 its imaginary ones.
Cut side_of(const PlaneBox& range, std::size_t total, int side) {
  switch (side) {
    case 0: return {total, Complex(1), range.re_most};
    case 1: return {total, Complex(-1), -range.re_least};
    case 2: return {total, Complex(0, 1), range.im_most};
    default: return {total, Complex(0, -1), -range.im_least};
  }
}

// Where a range is halved: what matters is the ratio of its ends, where they have one.
double dividing_line(double least, double most) {
  constexpr double kWide = 2;
  if (least > 0 && most > kWide * least) return std::sqrt(least * most);
  return (least + most) / 2;
}

}  // namespace

void Cell::move_cuts() {
  for (Cut& cut : cuts) {
    for (int side = 0; side < kSides; ++side) {
      const Cut now = side_of(ranges[cut.total], cut.total, side);
      if (now.direction == cut.direction) cut.most = now.most;
    }
  }
}

bool Cell::cut_off(const std::vector<Complex>& totals) {
  constexpr double kBeyond = 0.02;  // of the range
  constexpr double kHair = 1e-9;    // siemens
  bool any = false;
  for (std::size_t f = 0; f < ranges.size(); ++f) {
    for (int side = 0; side < kSides; ++side) {
      const Cut cut = side_of(ranges[f], f, side);
      const double over = (std::conj(cut.direction) * totals[f]).real() - cut.most;
      if (over <= kBeyond * ranges[f].radius() + kHair) continue;
      const bool known = std::any_of(cuts.begin(), cuts.end(), [&](const Cut& c) {
        return c.total == cut.total && c.direction == cut.direction;
      });
      if (known) continue;
      cuts.push_back(cut);
      any = true;
    }
  }
  return any;
}

std::pair<Cell, Cell> halves(const Cell& cell, std::size_t total) {
  std::pair<Cell, Cell> two{cell, cell};
  PlaneBox& low = two.first.ranges[total];
  PlaneBox& high = two.second.ranges[total];
  if (low.re_most - low.re_least >= low.im_most - low.im_least) {
    low.re_most = high.re_least = dividing_line(low.re_least, low.re_most);
  } else {
    low.im_most = high.im_least = dividing_line(low.im_least, low.im_most);
  }
  return two;
}

}  // namespace evenleg
