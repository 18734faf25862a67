#include "src/audit/certify.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "src/audit/cloud.h"
#include "src/audit/every_choice.h"
#include "src/audit/held_form.h"
#include "src/audit/piece.h"

namespace evenleg {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kWidening = 3;      // each arc outward is this much wider than the one before
constexpr double kLeastSagitta = 0.1;  // of the margin: an arc flatter than that is not halved
constexpr double kSlack = 0.05;  // of margin and sagitta: as near as that is on the piece
constexpr int kMostDepth = 60;  // of divided state lists

struct Arc {
  double from = 0;  // radians
  double to = 0;
};

class Prover {
 public:
  // `margin`: how far beyond the best the circle lies.
  Prover(const Problem& problem, Goal goal, Found best, double margin,
         const CertifyOptions& options)
      : problem_(problem), goal_(goal), best_(std::move(best)), margin_(margin), options_(options),
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
    const double gap = std::max(std::abs(radius_ - best_.magnitude), margin_);
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

  void note_if_better(const Choice& choice) {
    const double magnitude = std::abs(value(problem_, choice));
    if (improves(goal_, magnitude, best_.magnitude)) best_ = {choice, magnitude};
  }

  // Every choice of a part, where there are few.
  [[nodiscard]] bool few_choices(const Problem& problem) const {
    double count = 1;
    for (const std::vector<int>& states : problem.allowed) {
      count *= static_cast<double>(states.size());
    }
    return count <= options_.enumerate_up_to;
  }
  Result try_all(const Problem& problem) {
    std::vector<int> sizes;
    for (const std::vector<int>& states : problem.allowed) {
      sizes.push_back(static_cast<int>(states.size()));
    }
    if (std::find(sizes.begin(), sizes.end(), 0) != sizes.end()) return Result::Proven;
    Choice place(sizes.size(), 0);
    Choice choice(sizes.size());
    constexpr int kTriedForATest = 4;  // about what it costs
    int tried = 0;
    do {
      for (std::size_t n = 0; n < place.size(); ++n) {
        choice[n] = problem.allowed[n][static_cast<std::size_t>(place[n])];
      }
      if (groups_agree(*problem.elements, choice)) note_if_better(choice);
      ++tried;
    } while (next_choice(sizes, place));
    tests_left_ -= tried / kTriedForATest;
    return beyond_radius() ? Result::Improved : Result::Proven;
  }

  Result prove_arcs(const Problem& problem, const Choice& start, std::vector<Arc> arcs,
                    int depth) {
    if (few_choices(problem)) return try_all(problem);
    const Totals totals = totals_of(problem);
    const Cloud cloud = cloud_of(problem, true);
    PieceTest piece(problem, totals, cloud);
    std::vector<Arc> failed;
    Meeting meeting;
    while (!arcs.empty()) {
      const Arc arc = arcs.back();
      arcs.pop_back();
      const double half = (arc.to - arc.from) / 2;
      const double sagitta = radius_ * (1 - std::cos(half));
      const double slack = kSlack * (margin_ + sagitta);
      const bool flat = sagitta <= kLeastSagitta * margin_;
      const PieceResult result = piece.test(corners(arc), slack, !flat, tests_left_);
      if (result == PieceResult::Excluded) {
        excluded_.push_back(arc);
        continue;
      }
      for (const Choice& met : {piece.meeting().nearest, piece.meeting().other}) {
        if (!met.empty()) note_if_better(met);
      }
      if (beyond_radius()) return Result::Improved;
      if (tests_left_ <= 0) return Result::Open;
      const auto& mix = piece.meeting().attained;
      if (mix && beyond(std::abs(*mix))) {  // no flatter arcs help: what is in the way is the mix
        failed.push_back(arc);
        failed.insert(failed.end(), arcs.begin(), arcs.end());
        meeting = piece.meeting();
        break;
      }
      if (!flat) {
        arcs.push_back({arc.from, arc.from + half});
        arcs.push_back({arc.from + half, arc.to});
        continue;
      }
      failed.push_back(arc);
      if (meeting.nearest.empty()) meeting = piece.meeting();
    }
    if (failed.empty()) return Result::Proven;
    if (depth >= kMostDepth || meeting.nearest.empty()) return Result::Open;
    return divide(problem, totals, cloud, start, meeting, failed, depth);
  }

  // Divides the states of the element in which the two choices met differ most.
  Result divide(const Problem& problem, const Totals& totals, const Cloud& cloud,
                const Choice& start, const Meeting& meeting, const std::vector<Arc>& arcs,
                int depth) {
    const Complex v = std::polar(radius_, (arcs.front().from + arcs.front().to) / 2);
    const HeldForm form(problem, totals, central(ranges_of(totals, cloud)),
                        ways_of(problem).back());
    std::vector<Complex> coefficients;
    form.coefficients(v, coefficients);
    const auto r_of = [&](std::size_t n, int state) {
      std::vector<Complex> features;
      features_of(problem, n, state, features);
      Complex r{};
      for (std::size_t f = 0; f < features.size(); ++f) {
        r += coefficients[static_cast<std::size_t>(totals.of_element[n][f])] * features[f];
      }
      return r;
    };
    Complex widest{};
    std::size_t chosen = problem.allowed.size();
    for (std::size_t n = 0; n < problem.allowed.size(); ++n) {
      if (meeting.nearest[n] == meeting.other[n]) continue;
      const Complex apart = r_of(n, meeting.nearest[n]) - r_of(n, meeting.other[n]);
      if (std::abs(apart) <= std::abs(widest)) continue;
      widest = apart;
      chosen = n;
    }
    if (chosen == problem.allowed.size()) return Result::Open;
    const Complex middle = (r_of(chosen, meeting.nearest[chosen]) +
                            r_of(chosen, meeting.other[chosen])) / 2.0;
    std::vector<std::vector<int>> halves(2);
    for (int s : problem.allowed[chosen]) {
      const double along = ((r_of(chosen, s) - middle) * std::conj(widest)).real();
      halves[along >= 0 ? 0 : 1].push_back(s);
    }
    for (const std::vector<int>& half : halves) {
      Problem part = problem;
      part.allowed[chosen] = half;
      std::optional<Choice> inside = choice_inside(part, start, arcs);
      if (beyond_radius()) return Result::Improved;
      if (!inside && !few_choices(part)) {
        if (!any_choice(part)) continue;  // no credible choice in this half: nothing to prove
        return Result::Open;
      }
      const Result result = prove_arcs(part, inside.value_or(start), arcs, depth + 1);
      if (result != Result::Proven) return result;
    }
    return Result::Proven;
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
  // crossing it. The chords of `excluded_` and of `arcs` (still to be proven) make up the curve;
  // the triangles used for the lowest hold no attained V at all, so there the circle itself
  // decides.
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

  [[nodiscard]] bool beyond(double magnitude) const {
    return goal_ == Goal::Highest ? magnitude > radius_ : magnitude < radius_;
  }
  [[nodiscard]] bool beyond_radius() const { return beyond(best_.magnitude); }

  const Problem& problem_;
  Goal goal_;
  Found best_;
  double margin_;
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
  constexpr double kLastProven = 0.95;  // of proven_within: the widest margin that counts as proven
  double margin = options.margin;
  while (margin < kWorstMargin) {
    double radius = best.magnitude + sign * margin;
    if (options.enough && improves(goal, *options.enough, radius)) {
      radius = *options.enough;
      margin = std::abs(radius - best.magnitude);
    }
    if (radius <= 0) return {best, 0.0, best.magnitude <= options.proven_within};
    Prover prover(problem, goal, best, margin, options);
    const Prover::Result result = prover.prove(radius);
    const bool moved = improves(goal, prover.best().magnitude, best.magnitude);
    best = prover.best();
    if (result == Prover::Result::Proven) {
      const bool within = std::abs(radius - best.magnitude) <= options.proven_within;
      return {best, radius, within || radius == options.enough};
    }
    if (result == Prover::Result::Improved || moved) {
      if (const auto better = search(problem, goal, best.choice)) {
        if (improves(goal, better->magnitude, best.magnitude)) best = *better;
      }
      continue;
    }
    if (!options.may_widen) break;
    const double last = kLastProven * options.proven_within;
    margin = margin < last ? std::min(kMarginGrowth * margin, last) : kMarginGrowth * margin;
  }
  return {best, goal == Goal::Highest ? std::numeric_limits<double>::infinity() : 0.0, false};
}

}  // namespace evenleg
