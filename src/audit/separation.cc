#include "src/audit/separation.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "evenleg/base/index.h"
#include "src/audit/nearest_mix.h"

namespace evenleg {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kLeastScale = 1e-12;
constexpr double kZero = 1e-100;  // amperes or volts: so little that its square would be lost
constexpr int kMostChoices = 24;  // choices added

// What r may be off by through rounding, per unit of the sum of its terms' sizes. Judgement, held to
// 200,000 random choices (tests/audit/narrowing_test.cc has those that failed without it).
constexpr double kRounding = 1e-11;

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

}  // namespace

View Separator::view_of(const HeldForm& form, const std::vector<Complex>& corners,
                        const Cell& cell, const Choice& base) const {
  View view;
  for (const Complex& v : corners) {
    std::vector<Complex>& c = view.coefficients.emplace_back();
    form.coefficients(v, c);
    Complex constant = form.at_center(v);
    double terms = std::abs(constant);
    for (std::size_t f = 0; f < c.size(); ++f) {
      constant -= c[f] * form.bases()[f].center;
      const PlaneBox& range = cell.ranges[f];
      terms += std::abs(c[f]) * (std::abs(range.center()) + range.radius());
    }
    view.constant.push_back(constant);
    view.rounding = std::max(view.rounding, kRounding * terms);
    view.error = std::max(view.error, form.error(v, view.prices.emplace_back()));
  }
  view.error += view.rounding;
  for (const Cut& cut : cell.cuts) {
    view.scale.push_back(std::max(std::abs(view.coefficients.front()[cut.total]), kLeastScale));
  }
  for (const Base& b : form.bases()) view.priced = view.priced || b.priced;
  if (view.priced) {
    view.base.resize(base.size());
    for (std::size_t n = 0; n < base.size(); ++n) features_of(problem_, n, base[n], view.base[n]);
  }
  return view;
}

void Separator::costs_of_points(std::size_t n, const View& view, std::size_t corner,
                                const std::vector<Complex>& costs, double weight,
                                std::vector<double>& result) const {
  const PointSet& set = cloud_.elements[n];
  const std::size_t size = set.size();
  result.assign(size, 0.0);
  for (std::size_t f = 0; f < set.features; ++f) {
    const std::size_t total = at(totals_.of_element[n][f]);
    const double a = costs[total].real();
    const double b = costs[total].imag();
    const double* re = set.re.data() + f * size;
    const double* im = set.im.data() + f * size;
    const double price = weight * view.prices[corner][total];
    if (price == 0) {
      for (std::size_t i = 0; i < size; ++i) result[i] += a * re[i] - b * im[i];
      continue;
    }
    const double x = view.base[n][f].real();
    const double y = view.base[n][f].imag();
    for (std::size_t i = 0; i < size; ++i) {
      const double dx = re[i] - x;
      const double dy = im[i] - y;
      result[i] += a * re[i] - b * im[i] - price * std::sqrt(dx * dx + dy * dy);
    }
  }
}

// What a choice is charged for its differences from the base.
double Separator::charged(const Choice& choice, const View& view, std::size_t corner) const {
  double sum = 0;
  std::vector<Complex> features;
  for (std::size_t n = 0; n < choice.size(); ++n) {
    features_of(problem_, n, choice[n], features);
    for (std::size_t f = 0; f < features.size(); ++f) {
      const double price = view.prices[corner][at(totals_.of_element[n][f])];
      if (price > 0) sum += price * std::abs(features[f] - view.base[n][f]);
    }
  }
  return sum;
}

std::optional<Separator::Back> Separator::furthest_back(const View& view, const Cell& cell,
                                                        const std::vector<double>& rest,
                                                        int& tests_left) const {
  const Complex phi(rest[0], rest[1]);
  const double size = std::abs(phi);
  std::optional<Back> back;
  std::vector<Complex> costs(totals_.size());
  for (std::size_t c = 0; c < view.coefficients.size(); ++c) {
    for (std::size_t f = 0; f < costs.size(); ++f) {
      costs[f] = std::conj(phi) * view.coefficients[c][f];
    }
    for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
      costs[cell.cuts[k].total] += rest[2 + k] * view.scale[k] * std::conj(cell.cuts[k].direction);
    }
    --tests_left;
    const auto chosen = cheapest(cloud_, [&](std::size_t n, std::vector<double>& result) {
      costs_of_points(n, view, c, costs, size, result);
    });
    if (!chosen) return std::nullopt;
    Atom atom{chosen->choice, std::vector<Complex>(totals_.size())};
    for (std::size_t n = 0; n < cloud_.elements.size(); ++n) {
      const PointSet& set = cloud_.elements[n];
      for (std::size_t f = 0; f < set.features; ++f) {
        const std::size_t i = f * set.size() + chosen->points[n];
        atom.totals[at(totals_.of_element[n][f])] += Complex(set.re[i], set.im[i]);
      }
    }
    Complex r = view.constant[c];
    for (std::size_t f = 0; f < costs.size(); ++f) {
      r += view.coefficients[c][f] * atom.totals[f];
    }
    if (view.priced && size > 0) r -= phi / size * charged(atom.choice, view, c);
    std::vector<double> point{r.real(), r.imag()};
    for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
      const Cut& cut = cell.cuts[k];
      point.push_back(view.scale[k] *
                      ((std::conj(cut.direction) * atom.totals[cut.total]).real() - cut.most));
    }
    const double along = dot(rest, point);
    if (back && along >= back->along) continue;
    back = Back{std::move(atom), std::move(point), along};
  }
  return back;
}

Separation Separator::separate(const View& view, const Cell& cell, double enough,
                               int& tests_left) const {
  const std::size_t cuts = cell.cuts.size();
  Separation result;
  result.margin = -kNever;
  result.multipliers.assign(cuts, 0.0);
  NearestMix mix(2 + cuts);
  Complex start = view.constant.front();  // about where r is in the middle
  for (std::size_t f = 0; f < totals_.size(); ++f) {
    start += view.coefficients.front()[f] * cell.ranges[f].center();
  }
  std::vector<double> rest{start.real(), start.imag()};
  rest.resize(2 + cuts, 0.0);
  for (int round = 0; round < kMostChoices && tests_left > 0; ++round) {
    if (std::sqrt(dot(rest, rest)) < kZero) {
      if (!result.met.empty()) {
        result.reached = true;
        break;
      }
      rest[0] = 1;  // r is nothing in the middle: any direction will do to begin with
    }
    std::optional<Back> back = furthest_back(view, cell, rest, tests_left);
    if (!back) {  // no choice is credible
      result.excluded = true;
      return result;
    }
    const double size = std::hypot(rest[0], rest[1]);
    const double whole = std::sqrt(dot(rest, rest));
    const double margin = whole > 0 ? (back->along - view.error * size) / whole : -kNever;
    if (margin > result.margin) {
      result.margin = margin;
      result.direction = size > 0 ? Complex(rest[0], rest[1]) / size : Complex{};
      for (std::size_t k = 0; k < cuts; ++k) {
        result.multipliers[k] = size > 0 ? rest[2 + k] * view.scale[k] / size : 0.0;
      }
    }
    if (margin > view.rounding) {
      result.excluded = true;
      return result;
    }
    constexpr double kSettled = 1e-3;
    if (!result.met.empty() && back->along >= whole * whole * (1 - kSettled)) break;
    result.met.push_back(std::move(back->atom));
    mix.add(back->point);
    rest = mix.residual();
    const double left = std::sqrt(dot(rest, rest));
    // No direction can exclude more than what is left.
    if (left > view.error * std::hypot(rest[0], rest[1]) / left) continue;
    result.reached = true;
    if (left <= enough) break;
  }
  result.weights = mix.weights();
  result.mix.assign(totals_.size(), {});
  for (std::size_t i = 0; i < result.weights.size(); ++i) {
    for (std::size_t f = 0; f < totals_.size(); ++f) {
      result.mix[f] += result.weights[i] * result.met[i].totals[f];
    }
  }
  return result;
}

}  // namespace evenleg
