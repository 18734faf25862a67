// Whether some mix of credible choices attains a V on a piece of curve.
//
// A piece is the hull of two or three corners. A direction that parts all mixes from r = 0 excludes
// it (separation.h); where the error is in the way, the ranges of the totals are narrowed
// (narrowing.h) and, where that ends, a range is halved and each half is proven by itself. The
// halves cover all mixes that attain V, so this needs no argument about connectedness.
#pragma once

#include <optional>
#include <vector>

#include "src/audit/narrowing.h"

namespace evenleg {

enum class PieceResult {
  Excluded,
  Attained,  // some mix attains a V of the piece
  Unclear,   // it cannot be told from this piece
  GaveUp,    // the tests ran out
};

// The two choices that weighed most in the mix last found nearest to r = 0.
struct Meeting {
  Choice nearest;
  Choice other;
  std::optional<Complex> attained;  // exact value of that mix, after Attained
};

class PieceTest {
 public:
  // `cloud` holds the points of `problem.allowed`; all three outlive the test.
  PieceTest(const Problem& problem, const Totals& totals, const Cloud& cloud);

  // Whether a mix attains a V within the hull of `corners`. A mix that comes within `slack` of the
  // piece may be called attaining. `may_halve`: rather than dividing ranges without end, say that
  // shorter pieces are needed. `tests_left` counts down the passes over all points.
  [[nodiscard]] PieceResult test(const std::vector<Complex>& corners, double slack,
                                 bool may_halve, int& tests_left);
  // After anything but Excluded: what was met.
  [[nodiscard]] const Meeting& meeting() const { return meeting_; }

 private:
  [[nodiscard]] PieceResult test_cell(const std::vector<Complex>& corners, Cell cell, int depth,
                                      int way, int& tests_left);
  // One form over the cell: a result, or nothing where its ranges have been narrowed instead.
  [[nodiscard]] std::optional<PieceResult> pass(const HeldForm& form, std::size_t blamed,
                                                const View& view,
                                                const std::vector<Complex>& corners, Cell& cell,
                                                int& tests_left);
  // The form over the whole ranges that knows V best about `v`.
  [[nodiscard]] const HeldForm& whole_form(Complex v);
  void note(const Separation& separation);

  const Problem& problem_;
  const Totals& totals_;
  std::vector<PlaneBox> ranges_;
  Separator separator_;
  Narrowing narrowing_;
  std::vector<HeldForm> whole_;  // a form for each way
  Meeting meeting_;
  double slack_ = 0;
  bool may_halve_ = false;
};

}  // namespace evenleg
