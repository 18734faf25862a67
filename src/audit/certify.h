// Proof that no credible choice goes beyond a value.
//
// Claim (highest): no choice has |V| > t. Relax each element to the convex hull of its points:
// still a passive network, so V stays finite and continuous, and the relaxed set is connected and
// holds a choice with |V| <= t. If no relaxed choice attains a V on a closed curve that encloses
// that choice's V and lies within the circle |V| = t, none lies beyond the circle. The curve is
// made of chords of the circle, short where V comes near and long elsewhere. For the lowest the
// same from outside, with triangles over the arcs instead of chords, so that the curve covers the
// circle.
//
// Each piece of curve is tested by piece.h: V held, the balance of the faulty neutral is a residual
// r, affine in the cables' totals up to an error of second order in their ranges (held_form.h); a
// direction that parts it from zero excludes the piece (separation.h). A piece that is not excluded
// is halved; where a mix of choices truly goes beyond the circle, or a piece is too flat to halve,
// the states of an element are divided in two and each half, which again holds a choice on the
// right side, is proven alone. Halves with few choices are all tried.
//
// This is the zero-exclusion argument of robust control (B. R. Barmish, New Tools for Robustness of
// Linear Systems, 1994; reference from memory).
#pragma once

#include <optional>

#include "src/audit/search.h"

namespace evenleg {

struct CertifyOptions {
  double margin = 0.001;        // volts or amperes beyond the value: the first bound that is tried
  double proven_within = 0.01;  // value and bound this near to each other count as equal
  int most_tests = 30000;       // passes over the points before a wider bound is tried
  int enumerate_up_to = 1024;  // choices of a part that are simply all tried
  bool may_widen = true;       // to a wider bound when the tests run out
  std::optional<double> enough{};  // a bound that will do: none nearer to the value is tried
};

struct Certificate {
  Found best;          // perhaps better than what was given
  double bound = 0;    // no credible choice has |V| beyond it; infinite when none could be shown
  bool proven = false; // bound and best are the same to proven_within, or the bound is enough
};

[[nodiscard]] Certificate certify(const Problem& problem, Goal goal, Found best,
                                  const CertifyOptions& options = {});

}  // namespace evenleg
