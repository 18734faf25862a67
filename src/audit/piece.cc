#include "src/audit/piece.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "src/audit/nearest_mix.h"

namespace evenleg {
namespace {

constexpr int kMostRounds = 24;      // choices added while separating
constexpr int kMostNarrowings = 6;
constexpr double kWorthNarrowing = 0.8;  // of the error; less is not worth another pass
constexpr int kMostDepth = 24;           // of halved ranges
constexpr int kMostDepthOfLong = 5;      // on a piece that may be halved itself
constexpr double kNegligible = 0.02;     // of the error: a total to blame for less is left alone
constexpr double kSmallError = 0.2;      // of the piece, in r
constexpr double kNear = 0.05;           // of the error: r nearer to zero is as good as zero

std::size_t at(int i) { return static_cast<std::size_t>(i); }
constexpr double kNever = std::numeric_limits<double>::infinity();

// One way to choose from all elements with shared groups: the cheapest for each set of groups in use.
class GroupTable {
 public:
  explicit GroupTable(int groups)
      : cost_(std::size_t{1} << static_cast<unsigned>(groups), kNever) {
    cost_.front() = 0;
  }

  void add(const PointSet& set, const std::vector<double>& costs) {
    std::vector<std::pair<std::uint32_t, std::size_t>> best;  // cheapest point of each set of groups
    for (std::size_t i = 0; i < set.size(); ++i) {
      const auto same = std::find_if(best.begin(), best.end(), [&](const auto& b) {
        return b.first == set.groups[i];
      });
      if (same == best.end()) {
        best.emplace_back(set.groups[i], i);
      } else if (costs[i] < costs[same->second]) {
        same->second = i;
      }
    }
    std::vector<double> next(cost_.size(), kNever);
    std::vector<std::pair<std::uint32_t, std::size_t>> from(cost_.size());
    for (std::uint32_t used = 0; used < cost_.size(); ++used) {
      if (cost_[used] == kNever) continue;
      for (const auto& [groups, point] : best) {
        const std::uint32_t both = groups | used;
        if ((groups & used) != 0 || both >= cost_.size()) continue;
        if (cost_[used] + costs[point] >= next[both]) continue;
        next[both] = cost_[used] + costs[point];
        from[both] = {used, point};
      }
    }
    cost_ = std::move(next);
    from_.push_back(std::move(from));
  }

  // The points chosen, in the order of add(); empty when there is no way.
  [[nodiscard]] std::vector<std::size_t> cheapest() const {
    const auto least = std::min_element(cost_.begin(), cost_.end());
    if (*least == kNever) return {};
    auto used = static_cast<std::size_t>(least - cost_.begin());
    std::vector<std::size_t> points(from_.size());
    for (std::size_t n = from_.size(); n-- > 0;) {
      points[n] = from_[n][used].second;
      used = from_[n][used].first;
    }
    return points;
  }

 private:
  std::vector<double> cost_;
  std::vector<std::vector<std::pair<std::uint32_t, std::size_t>>> from_;
};

// Where a range is halved: what matters is the ratio of its ends, where they have one.
double dividing_line(double least, double most) {
  constexpr double kWide = 2;
  if (least > 0 && most > kWide * least) return std::sqrt(least * most);
  return (least + most) / 2;
}

double cross(Complex a, Complex b) { return (std::conj(a) * b).imag(); }

// v lies in the triangle, or at most `slack` outside it; for two corners: beyond the line through them
// as seen from zero, or at most `slack` on this side, and next to them.
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

// The inequality that a side of a range is: 0 and 1 its real ends, 2 and 3 its imaginary ones.
Cut side_of(const PlaneBox& range, std::size_t total, int side) {
  switch (side) {
    case 0: return {total, Complex(1), range.re_most};
    case 1: return {total, Complex(-1), -range.re_least};
    case 2: return {total, Complex(0, 1), range.im_most};
    default: return {total, Complex(0, -1), -range.im_least};
  }
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

}  // namespace

// Ranges of the totals, and those of their sides that some mix went beyond.
struct PieceTest::Cell {
  std::vector<PlaneBox> ranges;
  std::vector<Cut> cuts;

  // Moves the cuts to where the ranges have narrowed to.
  void move_cuts() {
    for (Cut& cut : cuts) {
      for (int side = 0; side < 4; ++side) {
        const Cut now = side_of(ranges[cut.total], cut.total, side);
        if (now.direction == cut.direction) cut.most = now.most;
      }
    }
  }

  // Takes in the sides that these totals are beyond; false when there are none.
  bool cut_off(const std::vector<Complex>& totals) {
    bool any = false;
    for (std::size_t f = 0; f < ranges.size(); ++f) {
      for (int side = 0; side < 4; ++side) {
        constexpr double kBeyond = 0.02;  // of the range
        const Cut cut = side_of(ranges[f], f, side);
        const double over = (std::conj(cut.direction) * totals[f]).real() - cut.most;
        if (over <= kBeyond * ranges[f].radius() + 1e-9) continue;
        const bool known = std::any_of(cuts.begin(), cuts.end(), [&](const Cut& c) {
          return c.total == cut.total && c.direction == cut.direction;
        });
        if (known) continue;
        cuts.push_back(cut);
        any = true;
      }
    }
    return any;
  }
};

// A choice as a point: its totals, and where it was cheapest.
struct PieceTest::Atom {
  Choice choice;
  std::vector<Complex> totals;
};

struct PieceTest::Separation {
  bool excluded = false;
  bool reached = false;             // some mix has r as good as zero
  double margin = -kNever;          // the best found: above zero, excluded
  Complex direction{};              // φ, of size 1, or 0 where the cuts alone exclude
  std::vector<double> multipliers;  // of the cuts
  std::vector<Complex> mix;         // totals of the mix nearest to zero
  std::vector<double> weights;      // of the choices in it
  std::vector<Atom> met;            // the choices added, in turn
};

struct PieceTest::View {
  std::vector<std::vector<Complex>> coefficients;  // by corner
  std::vector<Complex> constant;                   // r less Σ coefficients · totals, by corner
  std::vector<std::vector<double>> prices;         // by corner
  double error = 0;                                // shared, at any corner
  bool priced = false;
  std::vector<double> scale;                       // of each cut, so that it weighs as r does
  std::vector<std::vector<Complex>> base;          // features of each element, where priced
};

PieceTest::View PieceTest::view_of(const HeldForm& form, const std::vector<Complex>& corners,
                                   const Cell& cell, const Choice& base) const {
  View view;
  for (const Complex& v : corners) {
    std::vector<Complex>& c = view.coefficients.emplace_back();
    form.coefficients(v, c);
    Complex constant = form.at_center(v);
    for (std::size_t f = 0; f < c.size(); ++f) constant -= c[f] * form.bases()[f].center;
    view.constant.push_back(constant);
    view.error = std::max(view.error, form.error(v, view.prices.emplace_back()));
  }
  for (const Cut& cut : cell.cuts) {
    view.scale.push_back(std::max(std::abs(view.coefficients.front()[cut.total]), 1e-12));
  }
  for (const Base& b : form.bases()) view.priced = view.priced || b.priced;
  if (view.priced) {
    view.base.resize(base.size());
    for (std::size_t n = 0; n < base.size(); ++n) features_of(problem_, n, base[n], view.base[n]);
  }
  return view;
}

void PieceTest::costs_of_points(std::size_t n, const View& view,
                                const std::vector<Complex>& costs,
                                const std::vector<double>& prices, double weight,
                                std::vector<double>& result) const {
  const PointSet& set = cloud_.elements[n];
  const std::vector<int>& totals = totals_.of_element[n];
  const std::size_t size = set.size();
  result.assign(size, 0.0);
  for (std::size_t f = 0; f < set.features; ++f) {
    const double a = costs[at(totals[f])].real();
    const double b = costs[at(totals[f])].imag();
    const double* re = set.re.data() + f * size;
    const double* im = set.im.data() + f * size;
    const double price = view.priced ? weight * prices[at(totals[f])] : 0.0;
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

PieceTest::PieceTest(const Problem& problem, const Totals& totals, const Cloud& cloud)
    : problem_(problem), totals_(totals), cloud_(cloud), ranges_(ranges_of(totals, cloud)),
      users_(totals.size()) {
  for (std::size_t n = 0; n < totals.of_element.size(); ++n) {
    for (std::size_t f = 0; f < totals.of_element[n].size(); ++f) {
      users_[at(totals.of_element[n][f])].emplace_back(n, f);
    }
  }
}

PieceResult PieceTest::test(const std::vector<Complex>& corners, double slack, bool may_halve,
                            int& tests_left) {
  meeting_ = {};
  slack_ = slack;
  may_halve_ = may_halve;
  return test_cell(corners, {ranges_, {}}, 0, HeldForm::kFree, tests_left);
}

std::optional<PieceTest::Atom> PieceTest::cheapest_choice(const View& view,
                                                          const std::vector<Complex>& costs,
                                                          const std::vector<double>& prices,
                                                          double weight) const {
  Atom atom;
  atom.choice.resize(cloud_.elements.size());
  atom.totals.assign(totals_.size(), {});
  const auto take = [&](std::size_t n, std::size_t point) {
    const PointSet& set = cloud_.elements[n];
    atom.choice[n] = set.state[point];
    for (std::size_t f = 0; f < set.features; ++f) {
      atom.totals[at(totals_.of_element[n][f])] +=
          Complex(set.re[f * set.size() + point], set.im[f * set.size() + point]);
    }
  };
  std::vector<double> point_costs;
  std::optional<GroupTable> table;
  std::vector<std::size_t> grouped;
  for (std::size_t n = 0; n < cloud_.elements.size(); ++n) {
    const PointSet& set = cloud_.elements[n];
    if (set.size() == 0) return std::nullopt;
    if (set.size() == 1 && !set.grouped) {
      take(n, 0);
      continue;
    }
    costs_of_points(n, view, costs, prices, weight, point_costs);
    if (set.grouped) {
      if (!table) table.emplace(cloud_.shared_groups);
      table->add(set, point_costs);
      grouped.push_back(n);
      continue;
    }
    take(n, static_cast<std::size_t>(std::min_element(point_costs.begin(), point_costs.end()) -
                                     point_costs.begin()));
  }
  if (table) {
    const std::vector<std::size_t> points = table->cheapest();
    if (points.empty()) return std::nullopt;
    for (std::size_t g = 0; g < grouped.size(); ++g) take(grouped[g], points[g]);
  }
  return atom;
}

PieceTest::Separation PieceTest::separate(const View& view, const Cell& cell, double enough,
                                          int& tests_left) {
  Separation result;
  const std::size_t cuts = cell.cuts.size();
  NearestMix mix(2 + cuts);
  std::vector<double> rest{view.constant.front().real(), view.constant.front().imag()};
  for (std::size_t f = 0; f < totals_.size(); ++f) {  // about where r is in the middle
    const Complex r = view.coefficients.front()[f] * cell.ranges[f].center();
    rest[0] += r.real();
    rest[1] += r.imag();
  }
  rest.resize(2 + cuts, 0.0);
  std::vector<Complex> costs(totals_.size());
  for (int round = 0; round < kMostRounds && tests_left > 0; ++round) {
    const Complex phi(rest[0], rest[1]);
    const double size = std::abs(phi);
    double least = kNever;
    std::optional<Atom> back;
    std::vector<double> point;
    for (std::size_t c = 0; c < view.coefficients.size(); ++c) {
      for (std::size_t f = 0; f < costs.size(); ++f) {
        costs[f] = std::conj(phi) * view.coefficients[c][f];
      }
      for (std::size_t k = 0; k < cuts; ++k) {
        costs[cell.cuts[k].total] +=
            rest[2 + k] * view.scale[k] * std::conj(cell.cuts[k].direction);
      }
      --tests_left;
      std::optional<Atom> atom = cheapest_choice(view, costs, view.prices[c], size);
      if (!atom) {
        result.excluded = true;
        return result;
      }
      Complex r = view.constant[c];
      for (std::size_t f = 0; f < costs.size(); ++f) {
        r += view.coefficients[c][f] * atom->totals[f];
      }
      if (view.priced && size > 0) r -= phi / size * charged(*atom, view, view.prices[c]);
      std::vector<double> here{r.real(), r.imag()};
      for (std::size_t k = 0; k < cuts; ++k) {
        const Cut& cut = cell.cuts[k];
        here.push_back(view.scale[k] *
                       ((std::conj(cut.direction) * atom->totals[cut.total]).real() - cut.most));
      }
      const double along = dot(rest, here);
      if (along >= least) continue;
      least = along;
      back = std::move(atom);
      point = std::move(here);
    }
    const double whole = std::sqrt(dot(rest, rest));
    const double margin = whole > 0 ? (least - view.error * size) / whole : -kNever;
    if (margin > result.margin) {
      result.margin = margin;
      result.direction = size > 0 ? phi / size : Complex{};
      result.multipliers.clear();
      for (std::size_t k = 0; k < cuts; ++k) {
        result.multipliers.push_back(size > 0 ? rest[2 + k] * view.scale[k] / size : 0.0);
      }
    }
    if (margin > 0) {
      result.excluded = true;
      return result;
    }
    const bool settled = !result.met.empty() && least >= whole * whole * (1 - 1e-3);
    if (settled) break;
    result.met.push_back(std::move(*back));
    mix.add(point);
    rest.assign(mix.residual().begin(), mix.residual().end());
    const double left = std::sqrt(dot(rest, rest));
    // No direction can exclude more than what is left.
    if (left > view.error * std::hypot(rest[0], rest[1]) / left) continue;
    result.reached = true;
    if (left <= enough) break;
  }
  result.weights = mix.weights();
  result.mix.assign(totals_.size(), {});
  for (std::size_t i = 0; i < mix.weights().size(); ++i) {
    for (std::size_t f = 0; f < totals_.size(); ++f) {
      result.mix[f] += mix.weights()[i] * result.met[i].totals[f];
    }
  }
  return result;
}

// What a choice is charged for its differences from the base.
double PieceTest::charged(const Atom& atom, const View& view,
                          const std::vector<double>& prices) const {
  double sum = 0;
  std::vector<Complex> features;
  for (std::size_t n = 0; n < atom.choice.size(); ++n) {
    features_of(problem_, n, atom.choice[n], features);
    for (std::size_t f = 0; f < features.size(); ++f) {
      const double price = prices[at(totals_.of_element[n][f])];
      if (price > 0) sum += price * std::abs(features[f] - view.base[n][f]);
    }
  }
  return sum;
}

void PieceTest::tighten(std::size_t total, const std::vector<std::vector<double>>& excess,
                        double allowance, PlaneBox& range) const {
  // The least over μ of Σ max(Re(conj(d) y) - μ excess) + μ A: convex and piecewise linear in μ, so the
  // tangents on either side meet below it, ever closer.
  const auto most_along = [&](bool imaginary, double sign) {
    double best = kNever;
    struct Tangent {
      double mu = 0;
      double value = 0;
      double slope = 0;
    };
    const auto tangent_at = [&](double mu) {
      Tangent tangent{mu, mu * allowance, allowance};
      for (const auto& [n, f] : users_[total]) {
        const PointSet& set = cloud_.elements[n];
        const double* values = (imaginary ? set.im.data() : set.re.data()) + f * set.size();
        const double* spent = excess[n].data();
        double most = -kNever;
        std::size_t where = 0;
        for (std::size_t i = 0; i < set.size(); ++i) {
          const double value = sign * values[i] - mu * spent[i];
          if (value <= most) continue;
          most = value;
          where = i;
        }
        tangent.value += most;
        tangent.slope -= spent[where];
      }
      best = std::min(best, tangent.value);
      return tangent;
    };
    Tangent low = tangent_at(0);
    if (low.slope >= 0) return best;
    const double width = imaginary ? range.im_most - range.im_least : range.re_most - range.re_least;
    Tangent high = tangent_at(std::max(width, 1e-15) / std::max(allowance, 1e-12));
    constexpr int kDoublings = 8;
    for (int d = 0; d < kDoublings && high.slope < 0; ++d) {
      low = high;
      high = tangent_at(high.mu * 8);
    }
    constexpr int kMeetings = 4;
    for (int m = 0; m < kMeetings && high.slope > 0; ++m) {
      const double mu = (low.value - low.slope * low.mu - high.value + high.slope * high.mu) /
                        (high.slope - low.slope);
      const double promised = low.value + low.slope * (mu - low.mu);
      if (best - promised <= 0.01 * width) break;
      const Tangent next = tangent_at(mu);
      (next.slope < 0 ? low : high) = next;
    }
    return best;
  };
  range.re_most = std::min(range.re_most, most_along(false, 1));
  range.re_least = std::max(range.re_least, -most_along(false, -1));
  range.im_most = std::min(range.im_most, most_along(true, 1));
  range.im_least = std::max(range.im_least, -most_along(true, -1));
}

std::vector<bool> PieceTest::blamed(const HeldForm& form,
                                    const std::vector<Complex>& corners) const {
  std::vector<bool> worth(totals_.size(), false);
  for (const Complex& v : corners) {
    const std::vector<double> shares = form.shares(v);
    const double most = *std::max_element(shares.begin(), shares.end());
    for (std::size_t f = 0; f < shares.size(); ++f) {
      if (shares[f] > kNegligible * most) worth[f] = true;
    }
  }
  return worth;
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

bool PieceTest::narrow(const View& view, const Separation& separation,
                       const std::vector<bool>& worth, Cell& cell) const {
  const std::size_t count = totals_.size();
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
      costs_of_points(n, view, costs, view.prices[c], 1, excess[n]);
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

// All totals but one priced, from a choice.
std::vector<Base> PieceTest::priced_bases(const Cell& cell, const Atom& atom,
                                          std::size_t bounded) const {
  std::vector<Base> bases = central(cell.ranges);
  for (std::size_t f = 0; f < bases.size(); ++f) {
    if (f == bounded) continue;
    const PlaneBox& range = cell.ranges[f];
    const Complex c = atom.totals[f];
    const double re = std::max(std::abs(range.re_most - c.real()), std::abs(c.real() - range.re_least));
    const double im = std::max(std::abs(range.im_most - c.imag()), std::abs(c.imag() - range.im_least));
    bases[f] = {c, std::hypot(re, im), true};
  }
  return bases;
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

PieceResult PieceTest::test_cell(const std::vector<Complex>& corners, Cell cell, int depth,
                                 int way, int& tests_left) {
  Complex middle{};
  for (const Complex& v : corners) middle += v / static_cast<double>(corners.size());
  std::optional<HeldForm> own;
  const HeldForm* form = nullptr;
  std::size_t total = 0;  // most to blame for the error
  double before = kNever;
  for (int pass = 0; pass < kMostNarrowings; ++pass) {
    if (depth == 0 && pass == 0) {
      form = &whole_form(middle);
      way = form->left_out();
    } else {
      own.emplace(problem_, totals_, central(cell.ranges), way);
      form = &*own;
    }
    const std::vector<double> shares = form->shares(middle);
    const auto worst = std::max_element(shares.begin(), shares.end());
    total = static_cast<std::size_t>(worst - shares.begin());
    if (*worst <= 0) total = totals_.size();
    if (!form->usable()) break;
    cell.move_cuts();
    View view = view_of(*form, corners, cell, {});
    if (pass > 0 && view.error > kWorthNarrowing * before) break;
    before = view.error;
    // Where the error is small against the piece, r itself is brought to zero, to see what is there.
    const double size = std::abs(form->at_center(corners[0]) - form->at_center(corners[1]));
    const bool small = !may_halve_ || view.error <= kSmallError * size;
    const double enough = small ? kNear * view.error : kNever;
    Separation separation = separate(view, cell, enough, tests_left);
    while (separation.reached && !separation.excluded && tests_left > 0 &&
           cell.cut_off(separation.mix)) {
      view = view_of(*form, corners, cell, {});
      separation = separate(view, cell, enough, tests_left);
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
      // Choices met at different corners are mixed here as if at one V; shorter pieces tell.
      if (may_halve_) return PieceResult::Unclear;
    }
    if (!narrow(view, separation, blamed(*form, corners), cell)) return PieceResult::Excluded;
    if (total == totals_.size() || separation.met.empty()) continue;
    // The same with all totals priced but the one to blame.
    const Atom& base = separation.met.back();
    const HeldForm priced(problem_, totals_, priced_bases(cell, base, total), way);
    if (!priced.usable()) continue;
    cell.move_cuts();
    const View other = view_of(priced, corners, cell, base.choice);
    const Separation second = separate(other, cell, kNever, tests_left);
    if (second.excluded) return PieceResult::Excluded;
    if (!narrow(other, second, blamed(priced, corners), cell)) return PieceResult::Excluded;
  }
  if (depth >= (may_halve_ ? kMostDepthOfLong : kMostDepth)) return PieceResult::Unclear;
  if (total == totals_.size()) return PieceResult::Unclear;
  // The total most to blame, across its longer side.
  const PlaneBox& range = cell.ranges[total];
  const bool real = range.re_most - range.re_least >= range.im_most - range.im_least;
  const double line = dividing_line(real ? range.re_least : range.im_least,
                                    real ? range.re_most : range.im_most);
  for (int side = 0; side < 2; ++side) {
    Cell half = cell;
    PlaneBox& part = half.ranges[total];
    (real ? (side == 0 ? part.re_most : part.re_least)
          : (side == 0 ? part.im_most : part.im_least)) = line;
    const PieceResult result = test_cell(corners, std::move(half), depth + 1, way, tests_left);
    if (result != PieceResult::Excluded) return result;
  }
  return PieceResult::Excluded;
}

}  // namespace evenleg
