#include "src/audit/certify.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "src/audit/cloud.h"
#include "src/audit/linearization.h"

namespace evenleg {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kWidening = 3;      // each arc outward is this much wider than the one before
constexpr double kLeastSagitta = 0.1;  // of the tolerance: an arc flatter than that is not halved
constexpr int kMostDirections = 12;
constexpr int kMostBases = 3;
constexpr int kMostPasses = 5;
constexpr double kWorthNarrowing = 0.85;  // narrowing by less is not worth another pass
constexpr int kMostDepth = 14;  // of divided state lists

struct Arc {
  double from = 0;  // radians
  double to = 0;
};

// Directions, as angles, that some tests have left: an interval that shrinks.
struct Directions {
  double from = -kPi;
  double to = kPi;

  bool operator==(const Directions&) const = default;
  [[nodiscard]] double middle() const { return (from + to) / 2; }
  // Keeps the directions in which `r` is further than `error` from zero; false when none is left.
  bool keep(Complex r, double error) {
    const double size = std::abs(r);
    if (error >= size) return false;
    const double half = std::acos(error / size);
    double center = std::arg(r);
    while (center < middle() - kPi) center += 2 * kPi;
    while (center > middle() + kPi) center -= 2 * kPi;
    from = std::max(from, center - half);
    to = std::min(to, center + half);
    return from < to;
  }
};

struct Outcome {
  bool excluded = false;
  Choice nearest;  // the choice that came nearest to attaining V, when not excluded
};

class Prover {
 public:
  Prover(const Problem& problem, Goal goal, Found best, const CertifyOptions& options)
      : problem_(problem), goal_(goal), best_(std::move(best)), options_(options),
        tests_left_(options.most_tests) {}

  enum class Result { Proven, Open, Improved };

  // No choice goes beyond `radius`.
  Result prove(double radius) {
    radius_ = radius;
    excluded_.clear();
    const std::vector<Arc> arcs = arcs_around(std::arg(value(problem_, best_.choice)));
    return prove_arcs(problem_, best_.choice, arcs, 0);
  }

  [[nodiscard]] const Found& best() const { return best_; }

 private:
  std::vector<Arc> arcs_around(double angle) const {
    const double gap = std::max(std::abs(radius_ - best_.magnitude), options_.tolerance);
    double width = std::min(std::sqrt(gap / radius_), kPi / 4);
    std::vector<Arc> arcs{{angle - width, angle + width}};
    for (double edge = width; edge < kPi;) {
      width *= kWidening;
      const double next = std::min({edge + width, edge + kPi / 4, kPi});
      arcs.push_back({angle + edge, angle + next});
      arcs.push_back({angle - next, angle - edge});
      edge = next;
    }
    return arcs;
  }

  // Corners of the piece of curve over an arc: a chord's ends, or a triangle that covers the arc.
  std::vector<Complex> corners(const Arc& arc) const {
    std::vector<Complex> points{std::polar(radius_, arc.from), std::polar(radius_, arc.to)};
    if (goal_ == Goal::Lowest) {
      const double half = (arc.to - arc.from) / 2;
      points.push_back(std::polar(radius_ / std::cos(half), arc.from + half));
    }
    return points;
  }

  // One base: directions are tried, then the form is narrowed to what its best direction leaves.
  Outcome test(const Cloud& cloud, HeldForm& form, const std::vector<Complex>& points) {
    Outcome outcome;
    for (int pass = 0; pass < kMostPasses && form.usable() && tests_left_ > 0; ++pass) {
      Complex best_direction;
      outcome = try_directions(cloud, form, points, best_direction);
      if (outcome.excluded || best_direction == Complex{}) return outcome;
      const double ratio = form.narrow(cloud, points, best_direction);
      if (ratio == 0) return {true, {}};
      if (ratio > kWorthNarrowing) break;
    }
    return outcome;
  }

  Outcome try_directions(const Cloud& cloud, const HeldForm& form,
                         const std::vector<Complex>& points, Complex& best_direction) {
    Outcome outcome;
    Directions directions;
    // The base choice itself leaves a first half-circle of directions.
    for (const Complex& v : points) {
      const Complex r = form.at_base(v);
      const double center = std::arg(r);
      if (&v == &points.front()) directions = {center - kPi, center + kPi};
      if (!directions.keep(r, 0)) return outcome;
    }
    double best_cost = -std::numeric_limits<double>::infinity();
    std::vector<Cost> costs;
    for (int step = 0; step < kMostDirections && tests_left_ > 0; ++step) {
      const Complex direction = std::polar(1.0, directions.middle());
      Complex worst_at;
      std::optional<Chosen> worst;
      for (const Complex& v : points) {
        double offset = 0;
        if (!form.costs(v, direction, costs, offset)) return outcome;
        --tests_left_;
        auto least = cheapest(cloud, costs, form.base());
        if (!least) return {true, {}};  // no choice at all
        least->cost += offset;
        if (worst && least->cost >= worst->cost) continue;
        worst = std::move(least);
        worst_at = v;
      }
      if (worst->cost > 0) return {true, {}};
      if (worst->cost > best_cost) {
        best_cost = worst->cost;
        best_direction = direction;
        outcome.nearest = worst->choice;
      }
      double error = 0;
      const Complex r = form.first_order(worst_at, worst->choice, error);
      // Where the error alone covers zero, the first-order part still tells which way to turn.
      const Directions before = directions;
      if (!directions.keep(r, error < std::abs(r) ? error : 0) || directions == before) break;
    }
    return outcome;
  }

  // The piece over an arc, moving the base towards whatever came nearest.
  Outcome exclude(const Problem& problem, const Cloud& cloud, const Choice& start,
                  const Arc& arc) {
    Choice base = start;
    std::vector<Choice> bases{start};
    Outcome outcome;
    const std::vector<Complex> points = corners(arc);
    for (int b = 0; b < kMostBases && tests_left_ > 0; ++b) {
      HeldForm form(problem, cloud, base);
      Outcome next = test(cloud, form, points);
      if (next.excluded) return next;
      if (next.nearest.empty()) break;
      outcome = std::move(next);
      if (note_if_better(outcome.nearest)) return outcome;
      if (std::find(bases.begin(), bases.end(), outcome.nearest) != bases.end()) break;
      bases.push_back(outcome.nearest);
      base = outcome.nearest;
    }
    return outcome;
  }

  bool note_if_better(const Choice& choice) {
    const double magnitude = std::abs(value(problem_, choice));
    if (!improves(goal_, magnitude, best_.magnitude)) return false;
    best_ = {choice, magnitude};
    return goal_ == Goal::Highest ? magnitude > radius_ : magnitude < radius_;
  }

  Result prove_arcs(const Problem& problem, const Choice& start, std::vector<Arc> arcs,
                    int depth) {
    const Cloud cloud = cloud_of(problem, true);
    std::vector<Arc> failed;
    Choice nearest;
    while (!arcs.empty()) {
      const Arc arc = arcs.back();
      arcs.pop_back();
      const Outcome outcome = exclude(problem, cloud, start, arc);
      if (outcome.excluded) {
        excluded_.push_back(arc);
        continue;
      }
      if (beyond_radius()) return Result::Improved;
      if (tests_left_ <= 0) return Result::Open;
      const double half = (arc.to - arc.from) / 2;
      if (radius_ * (1 - std::cos(half)) > kLeastSagitta * options_.tolerance) {
        arcs.push_back({arc.from, arc.from + half});
        arcs.push_back({arc.from + half, arc.to});
        continue;
      }
      failed.push_back(arc);
      if (nearest.empty()) nearest = outcome.nearest;
    }
    if (failed.empty()) return Result::Proven;
    if (depth >= kMostDepth || nearest.empty()) return Result::Open;
    return divide(problem, cloud, start, nearest, failed, depth);
  }

  // Divides the states of the element that differs most between the base and what came nearest.
  Result divide(const Problem& problem, const Cloud& cloud, const Choice& start,
                const Choice& nearest, const std::vector<Arc>& arcs, int depth) {
    const HeldForm form(problem, cloud, start);
    std::vector<Cost> costs;
    double offset = 0;
    const Complex v = std::polar(radius_, (arcs.front().from + arcs.front().to) / 2);
    if (!form.costs(v, 1, costs, offset)) return Result::Open;
    double widest = 0;
    std::size_t chosen = problem.allowed.size();
    for (std::size_t n = 0; n < problem.allowed.size(); ++n) {
      if (problem.allowed[n].size() < 2) continue;
      const double spread = spread_of(cloud.elements[n], costs[n]);
      const double weight = start[n] != nearest[n] ? 1.0 : 0.5;  // rather where they differ
      if (spread * weight > widest) {
        widest = spread * weight;
        chosen = n;
      }
    }
    if (chosen == problem.allowed.size()) return Result::Open;
    for (const std::vector<int>& half : halves(problem, chosen, costs[chosen])) {
      Problem part = problem;
      part.allowed[chosen] = half;
      std::optional<Choice> inside = choice_inside(part, start, arcs);
      if (beyond_radius()) return Result::Improved;
      if (!inside) {
        if (!any_choice(part)) continue;  // no credible choice in this half: nothing to prove
        return Result::Open;
      }
      const Result result = prove_arcs(part, *inside, arcs, depth + 1);
      if (result != Result::Proven) return result;
    }
    return Result::Proven;
  }

  // How far apart an element's points can be in r.
  static double spread_of(const PointSet& set, const Cost& cost) {
    double low_re = 0, high_re = 0, low_im = 0, high_im = 0;
    for (std::size_t i = 0; i < set.size(); ++i) {
      Complex sum{};
      for (std::size_t f = 0; f < set.features; ++f) {
        sum += cost.c[f] * Complex(set.re[f * set.size() + i], set.im[f * set.size() + i]);
      }
      if (i == 0) low_re = high_re = sum.real(), low_im = high_im = sum.imag();
      low_re = std::min(low_re, sum.real());
      high_re = std::max(high_re, sum.real());
      low_im = std::min(low_im, sum.imag());
      high_im = std::max(high_im, sum.imag());
    }
    return std::hypot(high_re - low_re, high_im - low_im);
  }

  // The allowed states of an element in two lists, divided across the direction of most spread.
  static std::vector<std::vector<int>> halves(const Problem& problem, std::size_t n,
                                              const Cost& cost) {
    std::vector<std::pair<Complex, int>> points;
    std::vector<Complex> features;
    Complex mean{};
    for (int s : problem.allowed[n]) {
      features_of(problem, n, s, features);
      Complex sum{};
      for (std::size_t f = 0; f < features.size(); ++f) sum += cost.c[f] * features[f];
      points.emplace_back(sum, s);
      mean += sum;
    }
    mean /= static_cast<double>(points.size());
    Complex axis{};
    for (const auto& [point, state] : points) {
      if (std::abs(point - mean) > std::abs(axis)) axis = point - mean;
    }
    std::sort(points.begin(), points.end(), [&](const auto& a, const auto& b) {
      const double x = (a.first * std::conj(axis)).real();
      const double y = (b.first * std::conj(axis)).real();
      return x != y ? x < y : a.second < b.second;
    });
    std::vector<std::vector<int>> two(2);
    for (std::size_t i = 0; i < points.size(); ++i) {
      two[i < points.size() / 2 ? 0 : 1].push_back(points[i].second);
    }
    for (std::vector<int>& half : two) std::sort(half.begin(), half.end());
    return two;
  }

  // A choice of this part on the near side of the circle.
  std::optional<Choice> choice_inside(const Problem& part, const Choice& near,
                                     const std::vector<Arc>& arcs) {
    Choice moved = near;
    for (std::size_t n = 0; n < moved.size(); ++n) {
      const std::vector<int>& allowed = part.allowed[n];
      if (!std::binary_search(allowed.begin(), allowed.end(), moved[n])) moved[n] = allowed.front();
    }
    std::optional<Choice> choice =
        groups_agree(*part.elements, moved) ? moved : any_choice(part);
    if (!choice) return std::nullopt;
    note_if_better(*choice);
    if (!on_near_side(value(part, *choice), arcs)) return std::nullopt;
    return choice;
  }

  // V is on the side of the curve from which nothing beyond the circle can be reached without
  // crossing it. The chords of `excluded_` and of `arcs` (still to be proven) make up the curve; the
  // triangles used for the lowest hold no attained V at all, so there the circle itself decides.
  [[nodiscard]] bool on_near_side(Complex v, const std::vector<Arc>& arcs) const {
    if (goal_ == Goal::Lowest) return std::abs(v) >= radius_;
    if (std::abs(v) > radius_) return false;
    const auto cut_off = [&](const Arc& arc) {
      const double half = (arc.to - arc.from) / 2;
      const Complex toward = std::polar(1.0, arc.from + half);
      return (v * std::conj(toward)).real() >= radius_ * std::cos(half);
    };
    return std::none_of(excluded_.begin(), excluded_.end(), cut_off) &&
           std::none_of(arcs.begin(), arcs.end(), cut_off);
  }

  [[nodiscard]] bool beyond_radius() const {
    return goal_ == Goal::Highest ? best_.magnitude > radius_ : best_.magnitude < radius_;
  }

  const Problem& problem_;
  Goal goal_;
  Found best_;
  CertifyOptions options_;
  int tests_left_;
  double radius_ = 0;
  std::vector<Arc> excluded_;  // pieces proven so far
};

}  // namespace

Certificate certify(const Problem& problem, Goal goal, Found best,
                    const CertifyOptions& options) {
  const double sign = goal == Goal::Highest ? 1 : -1;
  constexpr double kWorstMargin = 400;  // volts or amperes beyond the value: then no bound at all
  constexpr double kMarginGrowth = 4;
  double margin = options.tolerance;
  CertifyOptions now = options;
  while (margin < kWorstMargin) {
    const double radius = best.magnitude + sign * margin;
    if (radius <= 0) return {best, 0.0, best.magnitude <= 2 * options.tolerance};
    now.tolerance = margin;
    Prover prover(problem, goal, best, now);
    const Prover::Result result = prover.prove(radius);
    const bool moved = improves(goal, prover.best().magnitude, best.magnitude);
    best = prover.best();
    if (result == Prover::Result::Proven) {
      const bool proven = std::abs(radius - best.magnitude) <= 2 * options.tolerance;
      return {best, radius, proven};
    }
    if (result == Prover::Result::Improved || moved) {
      if (const auto better = search(problem, goal, best.choice)) {
        if (improves(goal, better->magnitude, best.magnitude)) best = *better;
      }
      continue;
    }
    margin *= kMarginGrowth;
  }
  return {best, goal == Goal::Highest ? std::numeric_limits<double>::infinity() : 0.0, false};
}

}  // namespace evenleg
