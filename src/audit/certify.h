// Proof that no credible choice goes beyond a value.
//
// Claim (highest): no choice has |V| > t. Relax each element to the convex hull of its points: still a
// passive network, so V stays finite and continuous, and the relaxed set is connected and holds a
// choice with |V| <= t. If no relaxed choice attains a V on a closed curve that encloses that choice's
// V and lies within the circle |V| = t, none lies beyond the circle. The curve is made of chords of
// the circle, short where V comes near and long elsewhere. For the lowest the same from outside, with
// triangles over the arcs instead of chords, so that the curve covers the circle.
//
// One piece of curve: by linearization.h a relaxed choice that attains V has r(V, x) within its error
// of zero. r less its error, taken in a direction, is concave in V and in the choice, so if for some
// direction it is above zero at the piece's corners for every choice, no V of the piece is attained.
// The direction is found by halving the arc of those that the failed tests leave; failing that the
// base moves to the choice that came nearest, the piece is halved, or an element's states are divided
// in two and each half, which again holds a choice on the right side, is proven alone.
//
// This is the zero-exclusion argument of robust control (B. R. Barmish, New Tools for Robustness of
// Linear Systems, 1994; reference from memory).
#pragma once

#include <optional>

#include "src/audit/search.h"

namespace evenleg {

struct CertifyOptions {
  double tolerance = 0.005;  // volts or amperes between value and bound that count as equal
  int most_tests = 30000;    // passes over the points before a wider bound is tried
  int enumerate_up_to = 1024;  // choices of a part that are simply all tried
  bool may_widen = true;       // to a wider bound when the tests run out
};

struct Certificate {
  Found best;          // perhaps better than what was given
  double bound = 0;    // no credible choice has |V| beyond it; infinite when none could be shown
  bool proven = false; // |bound - best| <= 2 tolerances
};

[[nodiscard]] Certificate certify(const Problem& problem, Goal goal, Found best,
                                  const CertifyOptions& options = {});

}  // namespace evenleg
