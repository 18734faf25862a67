#include "src/audit/piece.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenleg {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr int kMostNarrowings = 6;
constexpr double kWorthNarrowing = 0.8;  // of the error; less is not worth another pass
constexpr int kMostDepth = 24;           // of halved ranges
constexpr int kMostDepthOfLong = 5;      // on a piece that may be halved itself
constexpr double kNegligible = 0.02;     // of the error: a total to blame for less is left alone
constexpr double kSmallError = 0.2;      // of the piece, in r
constexpr double kNear = 0.05;           // of the error: r nearer to zero is as good as zero

double cross(Complex a, Complex b) { return (std::conj(a) * b).imag(); }

// v lies in the triangle, or at most `slack` outside it; for two corners: beyond the line through
// them as seen from zero, or at most `slack` on this side, and next to them.
bool on_far_side(Complex v, const std::vector<Complex>& corners, double slack) {
  const std::size_t sides = corners.size() == 2 ? 1 : corners.size();
  const double turn = corners.size() == 2 ? -cross(corners[0], corners[1])
                                          : cross(corners[1] - corners[0], corners[2] - corners[0]);
  for (std::size_t c = 0; c < sides; ++c) {
    const Complex side = corners[(c + 1) % corners.size()] - corners[c];
    const double inside = cross(side, v - corners[c]) / std::abs(side);
    if ((turn < 0 ? -inside : inside) < -slack) return false;
  }
  if (corners.size() > 2) return true;
  const Complex chord = corners[1] - corners[0];
  const double along = (std::conj(chord) * (v - corners[0])).real();
  return along >= -slack * std::abs(chord) && along <= std::norm(chord) + slack * std::abs(chord);
}

// The totals that are to blame for more than a little of the error.
std::vector<bool> worth_narrowing(const HeldForm& form, const std::vector<Complex>& corners) {
  std::vector<bool> worth(form.bases().size(), false);
  for (const Complex& v : corners) {
    const std::vector<double> shares = form.shares(v);
    const double most = *std::max_element(shares.begin(), shares.end());
    for (std::size_t f = 0; f < shares.size(); ++f) {
      if (shares[f] > kNegligible * most) worth[f] = true;
    }
  }
  return worth;
}

// The total most to blame; their number when none is.
std::size_t most_to_blame(const std::vector<double>& shares) {
  const auto worst = std::max_element(shares.begin(), shares.end());
  return *worst > 0 ? static_cast<std::size_t>(worst - shares.begin()) : shares.size();
}

// All totals but one priced, from a choice.
std::vector<Base> priced_bases(const Cell& cell, const Atom& atom, std::size_t bounded) {
  std::vector<Base> bases = central(cell.ranges);
  for (std::size_t f = 0; f < bases.size(); ++f) {
    if (f == bounded) continue;
    const PlaneBox& range = cell.ranges[f];
    const Complex c = atom.totals[f];
    const double re = std::max(std::abs(range.re_most - c.real()),
                               std::abs(c.real() - range.re_least));
    const double im = std::max(std::abs(range.im_most - c.imag()),
                               std::abs(c.imag() - range.im_least));
    bases[f] = {c, std::hypot(re, im), true};
  }
  return bases;
}

}  // namespace

PieceTest::PieceTest(const Problem& problem, const Totals& totals, const Cloud& cloud)
    : problem_(problem), totals_(totals), ranges_(ranges_of(totals, cloud)),
      separator_(problem, totals, cloud), narrowing_(totals, cloud, separator_) {}

PieceResult PieceTest::test(const std::vector<Complex>& corners, double slack, bool may_halve,
                            int& tests_left) {
  meeting_ = {};
  slack_ = slack;
  may_halve_ = may_halve;
  return test_cell(corners, {ranges_, {}}, 0, HeldForm::kFree, tests_left);
}

const HeldForm& PieceTest::whole_form(Complex v) {
  if (whole_.empty()) {
    for (int way : ways_of(problem_)) {
      whole_.emplace_back(problem_, totals_, central(ranges_), way);
    }
  }
  const HeldForm* best = &whole_.front();
  double least = best->error_in_v(v);
  for (const HeldForm& form : whole_) {
    const double error = form.error_in_v(v);
    if (error >= least) continue;
    least = error;
    best = &form;
  }
  return *best;
}

// The two choices that weigh most in the mix, or the last ones met.
void PieceTest::note(const Separation& separation) {
  const std::vector<Atom>& met = separation.met;
  if (met.empty()) return;
  std::size_t first = met.size() - 1;
  for (std::size_t i = 0; i < separation.weights.size(); ++i) {
    if (separation.weights[i] > separation.weights[first]) first = i;
  }
  std::size_t second = first;
  double most = -1;
  for (std::size_t i = 0; i < separation.weights.size(); ++i) {
    if (met[i].choice == met[first].choice || separation.weights[i] <= most) continue;
    most = separation.weights[i];
    second = i;
  }
  meeting_.nearest = met[first].choice;
  meeting_.other = met[second].choice;
}

std::optional<PieceResult> PieceTest::pass(const HeldForm& form, std::size_t blamed,
                                           const View& view, const std::vector<Complex>& corners,
                                           Cell& cell, int& tests_left) {
  // Where the error is small against the piece, r itself is brought to zero, to see what is there.
  const double size = std::abs(form.at_center(corners[0]) - form.at_center(corners[1]));
  const bool small = !may_halve_ || view.error <= kSmallError * size;
  const double enough = small ? kNear * view.error : kNever;
  View now = view;
  Separation separation = separator_.separate(now, cell, enough, tests_left);
  while (separation.reached && !separation.excluded && tests_left > 0 &&
         cell.cut_off(separation.mix)) {
    now = separator_.view_of(form, corners, cell, {});
    separation = separator_.separate(now, cell, enough, tests_left);
  }
  if (separation.excluded) return PieceResult::Excluded;
  note(separation);
  if (tests_left <= 0) return PieceResult::GaveUp;
  if (separation.reached && small) {
    // To first order the mix attains a V of the piece; what it attains truly decides.
    const Complex v = value_of_totals(problem_, totals_, separation.mix);
    if (on_far_side(v, corners, slack_)) {
      meeting_.attained = v;
      return PieceResult::Attained;
    }
    if (may_halve_) return PieceResult::Unclear;
  }
  if (!narrowing_.narrow(now, separation, worth_narrowing(form, corners), cell)) {
    return PieceResult::Excluded;
  }
  if (blamed == totals_.size() || separation.met.empty()) return std::nullopt;
  // The same with all totals priced but the one to blame.
  const Atom& base = separation.met.back();
  const HeldForm priced(problem_, totals_, priced_bases(cell, base, blamed), form.left_out());
  if (!priced.usable()) return std::nullopt;
  cell.move_cuts();
  const View other = separator_.view_of(priced, corners, cell, base.choice);
  const Separation second = separator_.separate(other, cell, kNever, tests_left);
  if (second.excluded ||
      !narrowing_.narrow(other, second, worth_narrowing(priced, corners), cell)) {
    return PieceResult::Excluded;
  }
  return std::nullopt;
}

PieceResult PieceTest::test_cell(const std::vector<Complex>& corners, Cell cell, int depth,
                                 int way, int& tests_left) {
  Complex middle{};
  for (const Complex& v : corners) middle += v / static_cast<double>(corners.size());
  std::optional<HeldForm> own;
  std::size_t blamed = 0;
  double before = kNever;
  for (int p = 0; p < kMostNarrowings; ++p) {
    const bool whole = depth == 0 && p == 0;
    if (!whole) own.emplace(problem_, totals_, central(cell.ranges), way);
    const HeldForm& form = whole ? whole_form(middle) : *own;
    way = form.left_out();
    blamed = most_to_blame(form.shares(middle));
    if (!form.usable()) break;
    cell.move_cuts();
    const View view = separator_.view_of(form, corners, cell, {});
    if (view.error > kWorthNarrowing * before) break;
    before = view.error;
    const auto result = pass(form, blamed, view, corners, cell, tests_left);
    if (result) return *result;
  }
  if (depth >= (may_halve_ ? kMostDepthOfLong : kMostDepth)) return PieceResult::Unclear;
  if (blamed == totals_.size()) return PieceResult::Unclear;
  const auto [low, high] = halves(cell, blamed);
  for (const Cell& half : {low, high}) {
    const PieceResult result = test_cell(corners, half, depth + 1, way, tests_left);
    if (result != PieceResult::Excluded) return result;
  }
  return PieceResult::Excluded;
}

}  // namespace evenleg
