// Whether some direction parts every mix of choices from r = 0 on a piece of curve.
//
// r(V, x) of held_form.h is affine in V for a given x and in the totals of x for a given V. A *mix*
// takes a point of the convex hull of each element's states. With e(x) the error, shared part and
// prices, no mix within the cell attains any V of the piece if for some φ and some multipliers
// ν >= 0 of the cuts
//     min over corners and choices of  Re(conj(φ) r) - |φ| (e(x) - shared) + Σ ν g  >  |φ| shared,
// g <= 0 the cuts: at a V between the corners both r and a bound on e(x) are mixes of those at the
// corners, and the left side is concave in each element's point, so its least is at a state. φ and
// ν are those of the point of all (r less its price, g) nearest to zero (nearest_mix.h), found by
// adding the choice that lies furthest back until none does (Frank and Wolfe, fully corrective;
// from memory). Choices met at different corners are mixed as if at one V: on a long piece that can
// hide an answer, never make one.
#pragma once

#include <optional>
#include <vector>

#include "src/audit/cell.h"

namespace evenleg {

// What a form makes of the corners, and of each element's base where totals are priced.
struct View {
  std::vector<std::vector<Complex>> coefficients;  // by corner
  std::vector<Complex> constant;                   // r less Σ coefficients · totals, by corner
  std::vector<std::vector<double>> prices;         // by corner
  double error = 0;                                // shared, the most at any corner, and rounding
  double rounding = 0;                             // of r
  bool priced = false;
  std::vector<double> scale;                       // of each cut, so that it weighs as r does
  std::vector<std::vector<Complex>> base;          // features of each element, where priced
};

// A choice as a point.
struct Atom {
  Choice choice;
  std::vector<Complex> totals;
};

struct Separation {
  bool excluded = false;
  bool reached = false;             // some mix has r too near to zero for any direction
  double margin = 0;                // the best found
  Complex direction{};              // φ, of size 1, or 0 where the cuts alone exclude
  std::vector<double> multipliers;  // of the cuts
  std::vector<Complex> mix;         // totals of the mix nearest to zero
  std::vector<double> weights;      // of the choices in it
  std::vector<Atom> met;            // the choices added, in turn
};

class Separator {
 public:
  // All three outlive it; `cloud` holds the points of `problem.allowed`.
  Separator(const Problem& problem, const Totals& totals, const Cloud& cloud)
      : problem_(problem), totals_(totals), cloud_(cloud) {}

  // `base`: the choice that priced totals are counted from.
  [[nodiscard]] View view_of(const HeldForm& form, const std::vector<Complex>& corners,
                             const Cell& cell, const Choice& base) const;
  // Goes on, once no direction is left, until the nearest mix has r below `enough`. `tests_left`
  // counts down the passes over all points.
  [[nodiscard]] Separation separate(const View& view, const Cell& cell, double enough,
                                    int& tests_left) const;
  // Cost of each point of an element: Re(Σ costs · features) less `weight` times a corner's prices.
  void costs_of_points(std::size_t element, const View& view, std::size_t corner,
                       const std::vector<Complex>& costs, double weight,
                       std::vector<double>& result) const;

 private:
  // The choice that lies furthest back along `rest`, and where.
  struct Back {
    Atom atom;
    std::vector<double> point;
    double along = 0;
  };
  [[nodiscard]] std::optional<Back> furthest_back(const View& view, const Cell& cell,
                                                  const std::vector<double>& rest,
                                                  int& tests_left) const;
  [[nodiscard]] double charged(const Choice& choice, const View& view, std::size_t corner) const;

  const Problem& problem_;
  const Totals& totals_;
  const Cloud& cloud_;
};

}  // namespace evenleg
