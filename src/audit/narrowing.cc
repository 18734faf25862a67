#include "src/audit/narrowing.h"

#include <algorithm>
#include <limits>

namespace evenleg {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

}  // namespace

Narrowing::Narrowing(const Totals& totals, const Cloud& cloud, const Separator& separator)
    : cloud_(cloud), separator_(separator), users_(totals.size()) {
  for (std::size_t n = 0; n < totals.of_element.size(); ++n) {
    for (std::size_t f = 0; f < totals.of_element[n].size(); ++f) {
      users_[static_cast<std::size_t>(totals.of_element[n][f])].emplace_back(n, f);
    }
  }
}

// The least over μ of Σ max(Re(conj(d) y) - μ excess) + μ A, convex in μ: the tangents on either
// side of the least meet below it, ever closer.
double Narrowing::most_along(std::size_t total, bool imaginary, double sign, double width,
                             const std::vector<std::vector<double>>& excess,
                             double allowance) const {
  struct Tangent {
    double mu = 0;
    double value = 0;
    double slope = 0;
  };
  double best = kNever;
  const auto tangent_at = [&](double mu) {
    Tangent tangent{mu, mu * allowance, allowance};
    for (const auto& [n, f] : users_[total]) {
      const PointSet& set = cloud_.elements[n];
      const double* values = (imaginary ? set.im.data() : set.re.data()) + f * set.size();
      double most = -kNever;
      std::size_t where = 0;
      for (std::size_t i = 0; i < set.size(); ++i) {
        const double value = sign * values[i] - mu * excess[n][i];
        if (value <= most) continue;
        most = value;
        where = i;
      }
      tangent.value += most;
      tangent.slope -= excess[n][where];
    }
    best = std::min(best, tangent.value);
    return tangent;
  };
  Tangent low = tangent_at(0);
  if (low.slope >= 0) return best;
  constexpr double kLeast = 1e-12;  // of an allowance, so that it can be divided by
  constexpr double kStep = 8;
  constexpr int kMostSteps = 8;
  Tangent high = tangent_at(std::max(width, kLeast) / std::max(allowance, kLeast));
  for (int s = 0; s < kMostSteps && high.slope < 0; ++s) {
    low = high;
    high = tangent_at(high.mu * kStep);
  }
  constexpr int kMeetings = 4;
  constexpr double kCloseEnough = 0.01;  // of the range
  for (int m = 0; m < kMeetings && high.slope > 0; ++m) {
    const double mu = (low.value - low.slope * low.mu - high.value + high.slope * high.mu) /
                      (high.slope - low.slope);
    const double promised = low.value + low.slope * (mu - low.mu);
    if (best - promised <= kCloseEnough * width) break;
    const Tangent next = tangent_at(mu);
    (next.slope < 0 ? low : high) = next;
  }
  return best;
}

void Narrowing::tighten(std::size_t total, const std::vector<std::vector<double>>& excess,
                        double allowance, PlaneBox& range) const {
  const double re = range.re_most - range.re_least;
  const double im = range.im_most - range.im_least;
  const auto most = [&](bool imaginary, double sign) {
    return most_along(total, imaginary, sign, imaginary ? im : re, excess, allowance);
  };
  range.re_most = std::min(range.re_most, most(false, 1));
  range.re_least = std::max(range.re_least, -most(false, -1));
  range.im_most = std::min(range.im_most, most(true, 1));
  range.im_least = std::max(range.im_least, -most(true, -1));
}

bool Narrowing::narrow(const View& view, const Separation& separation,
                       const std::vector<bool>& worth, Cell& cell) const {
  const std::size_t count = users_.size();
  std::vector<PlaneBox> narrowed(count, {kNever, -kNever, kNever, -kNever});
  std::vector<std::vector<double>> excess(cloud_.elements.size());
  std::vector<Complex> costs(count);
  const Complex along = std::conj(separation.direction);
  bool possible = false;
  for (std::size_t c = 0; c < view.coefficients.size(); ++c) {
    for (std::size_t f = 0; f < count; ++f) costs[f] = along * view.coefficients[c][f];
    double allowance = view.error - (along * view.constant[c]).real();
    for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
      const Cut& cut = cell.cuts[k];
      costs[cut.total] += separation.multipliers[k] * std::conj(cut.direction);
      allowance += separation.multipliers[k] * cut.most;
    }
    for (std::size_t n = 0; n < excess.size(); ++n) {
      separator_.costs_of_points(n, view, c, costs, 1, excess[n]);
      const double least = *std::min_element(excess[n].begin(), excess[n].end());
      for (double& cost : excess[n]) cost -= least;
      allowance -= least;
    }
    if (allowance < 0) continue;  // no mix attains this corner's V
    possible = true;
    for (std::size_t f = 0; f < count; ++f) {
      PlaneBox range = cell.ranges[f];
      if (worth[f]) tighten(f, excess, allowance, range);
      narrowed[f].re_least = std::min(narrowed[f].re_least, range.re_least);
      narrowed[f].re_most = std::max(narrowed[f].re_most, range.re_most);
      narrowed[f].im_least = std::min(narrowed[f].im_least, range.im_least);
      narrowed[f].im_most = std::max(narrowed[f].im_most, range.im_most);
    }
  }
  if (!possible) return false;
  cell.ranges = std::move(narrowed);
  // Rounding may leave an empty range a hair wide.
  return std::none_of(cell.ranges.begin(), cell.ranges.end(), [](const PlaneBox& r) {
    constexpr double kHair = 1e-12;
    return r.re_least > r.re_most + kHair || r.im_least > r.im_most + kHair;
  });
}

}  // namespace evenleg
