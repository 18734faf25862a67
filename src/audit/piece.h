// Whether some mix of credible choices attains a V on a piece of curve.
//
// A piece is the hull of two or three corners. A *mix* takes a point of the convex hull of each
// element's states. By held_form.h a mix x that attains a V of the piece has r(V, x) within an error e
// of zero, r affine in V and in x. So if in some direction φ
//     min over corners and choices of Re(conj(φ) r) > e |φ|,
// no mix attains any V of the piece. The direction is that of the point of all r nearest to zero, found
// by adding the choice that lies furthest back until none does (Frank and Wolfe, fully corrective).
//
// Where the error is in the way, the ranges of the totals are narrowed: a mix that attains V costs at
// most e in direction φ, so what it costs more than the cheapest choice, summed over the elements, is at
// most an allowance A, and for any μ >= 0 and direction d
//     Re(conj(d) Y_f) <= Σ_elements max over states (Re(conj(d) y) - μ excess) + μ A
// (Lagrangian bound; mixes included, since what is maximized is linear). Where that ends, a range is
// halved and each half is proven by itself, with the dividing line as a further inequality under a
// multiplier of its own. The halves cover all mixes that attain V, so this needs no argument about
// connectedness.
#pragma once

#include <optional>

#include "src/audit/held_form.h"

namespace evenleg {

enum class PieceResult {
  Excluded,
  Attained,  // some mix attains a V of the piece
  Unclear,   // it cannot be told from this piece
  GaveUp,    // the tests ran out
};

// The line that divides a total's range: Re(conj(direction) total) <= most.
struct Cut {
  std::size_t total = 0;
  Complex direction{1};
  double most = 0;
};

// The choices last met on either side of zero: what lies between them attains V.
struct Meeting {
  Choice nearest;
  Choice other;
  std::optional<Complex> attained;  // exact value of a mix of choices
};

class PieceTest {
 public:
  // `cloud` holds the points of `problem.allowed`; all three outlive the test.
  PieceTest(const Problem& problem, const Totals& totals, const Cloud& cloud);

  // Whether a mix attains a V within the hull of `corners`. A mix that comes within `slack` of the piece
  // may be called attaining. `may_halve`: rather than dividing ranges without end, say that shorter
  // pieces are needed. `tests_left` counts down the passes over all points.
  [[nodiscard]] PieceResult test(const std::vector<Complex>& corners, double slack,
                                 bool may_halve, int& tests_left);
  // After Attained: what was met.
  [[nodiscard]] const Meeting& meeting() const { return meeting_; }

 private:
  struct Cell;
  struct Atom;
  struct Separation;

  [[nodiscard]] PieceResult test_cell(const std::vector<Complex>& corners, Cell cell, int depth,
                                      int way, int& tests_left);
  // The form over the whole ranges that knows V best about `v`.
  [[nodiscard]] const HeldForm& whole_form(Complex v);
  // What a form makes of the corners, and of each element's base where totals are priced.
  struct View;

  [[nodiscard]] View view_of(const HeldForm& form, const std::vector<Complex>& corners,
                             const Cell& cell, const Choice& base) const;
  [[nodiscard]] Separation separate(const View& view, const Cell& cell, double enough,
                                    int& tests_left);
  // Cost of each point of an element: Re(Σ costs · features) less the prices times `weight`.
  void costs_of_points(std::size_t element, const View& view, const std::vector<Complex>& costs,
                       const std::vector<double>& prices, double weight,
                       std::vector<double>& result) const;
  // The cheapest choice; nothing when no choice is credible.
  [[nodiscard]] std::optional<Atom> cheapest_choice(const View& view,
                                                    const std::vector<Complex>& costs,
                                                    const std::vector<double>& prices,
                                                    double weight) const;
  [[nodiscard]] bool narrow(const View& view, const Separation& separation,
                            const std::vector<bool>& worth, Cell& cell) const;
  // The totals that are to blame for more than a little of the error.
  [[nodiscard]] std::vector<bool> blamed(const HeldForm& form,
                                         const std::vector<Complex>& corners) const;
  void tighten(std::size_t total, const std::vector<std::vector<double>>& excess, double allowance,
               PlaneBox& range) const;
  [[nodiscard]] std::vector<Base> priced_bases(const Cell& cell, const Atom& atom,
                                               std::size_t bounded) const;
  [[nodiscard]] double charged(const Atom& atom, const View& view,
                               const std::vector<double>& prices) const;
  void note(const Separation& separation);

  const Problem& problem_;
  const Totals& totals_;
  const Cloud& cloud_;
  std::vector<PlaneBox> ranges_;
  std::vector<std::vector<std::pair<std::size_t, std::size_t>>> users_;  // by total: element, feature
  std::vector<HeldForm> whole_;  // a form for each way
  Meeting meeting_;
  double slack_ = 0;
  bool may_halve_ = false;
};

}  // namespace evenleg
