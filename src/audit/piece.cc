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

// v lies in the triangle; or, for two corners, beyond the line through them as seen from zero, next
// to them.
bool on_far_side(Complex v, const std::vector<Complex>& corners) {
  if (corners.size() == 2) {
    const Complex chord = corners[1] - corners[0];
    const double along = (std::conj(chord) * (v - corners[0])).real() / std::norm(chord);
    const double turn = cross(corners[0], corners[1]);
    return along >= 0 && along <= 1 && cross(chord, v - corners[0]) * turn <= 0;
  }
  const double turn = cross(corners[1] - corners[0], corners[2] - corners[0]);
  for (std::size_t c = 0; c < 3; ++c) {
    const Complex from = corners[c];
    if (cross(corners[(c + 1) % 3] - from, v - from) * turn < 0) return false;
  }
  return true;
}

// Re(Σ costs · features) of each point of an element.
void costs_of_points(const PointSet& set, const std::vector<int>& totals,
                     const std::vector<Complex>& costs, std::vector<double>& result) {
  const std::size_t size = set.size();
  result.assign(size, 0.0);
  for (std::size_t f = 0; f < set.features; ++f) {
    const double a = costs[at(totals[f])].real();
    const double b = costs[at(totals[f])].imag();
    const double* re = set.re.data() + f * size;
    const double* im = set.im.data() + f * size;
    for (std::size_t i = 0; i < size; ++i) result[i] += a * re[i] - b * im[i];
  }
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

}  // namespace

// Ranges of the totals, and the lines that divided them.
struct PieceTest::Cell {
  std::vector<PlaneBox> ranges;
  std::vector<Cut> cuts;
};

// A choice as a point: its totals, and where it was cheapest.
struct PieceTest::Atom {
  Choice choice;
  std::vector<Complex> totals;
};

struct PieceTest::Separation {
  bool excluded = false;
  bool reached = false;             // some mix has r as good as zero
  Complex direction{};              // φ, of size 1, or 0 where the cuts alone exclude
  std::vector<double> multipliers;  // of the cuts
  std::vector<Complex> mix;         // totals of the mix nearest to zero
  std::vector<Choice> last;         // the choices in that mix, and the last one met
};

PieceTest::PieceTest(const Problem& problem, const Totals& totals, const Cloud& cloud)
    : problem_(problem), totals_(totals), cloud_(cloud), ranges_(ranges_of(totals, cloud)),
      users_(totals.size()) {
  for (std::size_t n = 0; n < totals.of_element.size(); ++n) {
    for (std::size_t f = 0; f < totals.of_element[n].size(); ++f) {
      users_[at(totals.of_element[n][f])].emplace_back(n, f);
    }
  }
}

PieceResult PieceTest::test(const std::vector<Complex>& corners, int& tests_left) {
  meeting_ = {};
  return test_cell(corners, {ranges_, {}}, 0, tests_left);
}

std::optional<PieceTest::Atom> PieceTest::cheapest_choice(const std::vector<Complex>& costs) const {
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
    costs_of_points(set, totals_.of_element[n], costs, point_costs);
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

PieceTest::Separation PieceTest::separate(const HeldForm& form, const std::vector<Complex>& corners,
                                          const Cell& cell, double error, double enough,
                                          int& tests_left) {
  Separation result;
  std::vector<std::vector<Complex>> coefficients(corners.size());
  for (std::size_t c = 0; c < corners.size(); ++c) form.coefficients(corners[c], coefficients[c]);
  std::vector<double> scale;  // of each cut, so that it weighs as r does
  for (const Cut& cut : cell.cuts) {
    scale.push_back(std::max(std::abs(coefficients.front()[cut.total]), 1e-12));
  }
  const auto r_of = [&](const std::vector<Complex>& sums, std::size_t corner) {
    Complex r = form.at_center(corners[corner]);
    for (std::size_t f = 0; f < sums.size(); ++f) {
      r += coefficients[corner][f] * (sums[f] - form.center()[f]);
    }
    return r;
  };
  NearestMix mix(2 + cell.cuts.size());
  std::vector<Atom> atoms;
  std::vector<double> rest{form.at_center(corners.front()).real(),
                           form.at_center(corners.front()).imag()};
  rest.resize(2 + cell.cuts.size(), 0.0);
  double best_margin = -kNever;
  std::vector<Complex> costs(totals_.size());
  for (int round = 0; round < kMostRounds && tests_left > 0; ++round) {
    const Complex phi(rest[0], rest[1]);
    double least = kNever;
    std::optional<Atom> back;
    std::vector<double> point;
    for (std::size_t c = 0; c < corners.size(); ++c) {
      for (std::size_t f = 0; f < costs.size(); ++f) {
        costs[f] = std::conj(phi) * coefficients[c][f];
      }
      for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
        costs[cell.cuts[k].total] += rest[2 + k] * scale[k] * std::conj(cell.cuts[k].direction);
      }
      --tests_left;
      std::optional<Atom> atom = cheapest_choice(costs);
      if (!atom) {
        result.excluded = true;
        return result;
      }
      const Complex r = r_of(atom->totals, c);
      std::vector<double> here{r.real(), r.imag()};
      for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
        const Cut& cut = cell.cuts[k];
        here.push_back(scale[k] * ((std::conj(cut.direction) * atom->totals[cut.total]).real() -
                                   cut.most));
      }
      const double along = dot(rest, here);
      if (along >= least) continue;
      least = along;
      back = std::move(atom);
      point = std::move(here);
    }
    const double size = std::abs(phi);
    const double whole = std::sqrt(dot(rest, rest));
    const double margin = whole > 0 ? (least - error * size) / whole : -kNever;
    if (margin > best_margin) {
      best_margin = margin;
      result.direction = size > 0 ? phi / size : Complex{};
      result.multipliers.clear();
      for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
        result.multipliers.push_back(size > 0 ? rest[2 + k] * scale[k] / size : 0.0);
      }
    }
    if (margin > 0) {
      result.excluded = true;
      return result;
    }
    result.last.push_back(back->choice);
    const bool settled = !atoms.empty() && least >= whole * whole * (1 - 1e-3);
    if (settled) break;
    atoms.push_back(std::move(*back));
    mix.add(point);
    rest.assign(mix.residual().begin(), mix.residual().end());
    const double left = std::sqrt(dot(rest, rest));
    // No direction can exclude more than what is left.
    if (left > error * std::hypot(rest[0], rest[1]) / left) continue;
    result.reached = true;
    if (left <= enough) break;
  }
  result.mix.assign(totals_.size(), {});
  for (std::size_t i = 0; i < atoms.size(); ++i) {
    for (std::size_t f = 0; f < totals_.size(); ++f) {
      result.mix[f] += mix.weights()[i] * atoms[i].totals[f];
    }
  }
  return result;
}

void PieceTest::tighten(std::size_t total, const std::vector<std::vector<double>>& excess,
                        double allowance, const std::vector<Complex>& center,
                        PlaneBox& range) const {
  // The least over μ of Σ max(Re(conj(d) y) - μ excess) + μ A; convex in μ.
  const auto most_along = [&](bool imaginary, double sign) {
    double low = 0;
    double high = 0;
    double best = kNever;
    const auto at_mu = [&](double mu, double& slope) {
      double sum = mu * allowance;
      slope = allowance;
      for (const auto& [n, f] : users_[total]) {
        const PointSet& set = cloud_.elements[n];
        const double* values =
            (imaginary ? set.im.data() : set.re.data()) + f * set.size();
        double most = -kNever;
        double spent = 0;
        for (std::size_t i = 0; i < set.size(); ++i) {
          const double value = sign * values[i] - mu * excess[n][i];
          if (value <= most) continue;
          most = value;
          spent = excess[n][i];
        }
        sum += most;
        slope -= spent;
      }
      best = std::min(best, sum);
    };
    double slope = 0;
    at_mu(0, slope);
    if (slope >= 0) return best;
    const double width = imaginary ? range.im_most - range.im_least : range.re_most - range.re_least;
    high = std::max(width, 1e-15) / std::max(allowance, 1e-12);
    constexpr int kDoublings = 12;
    constexpr int kHalvings = 7;
    for (int d = 0; d < kDoublings; ++d) {
      at_mu(high, slope);
      if (slope >= 0) break;
      low = high;
      high *= 4;
    }
    for (int h = 0; h < kHalvings && slope != 0; ++h) {
      const double middle = (low + high) / 2;
      at_mu(middle, slope);
      (slope >= 0 ? high : low) = middle;
    }
    return best;
  };
  (void)center;
  range.re_most = std::min(range.re_most, most_along(false, 1));
  range.re_least = std::max(range.re_least, -most_along(false, -1));
  range.im_most = std::min(range.im_most, most_along(true, 1));
  range.im_least = std::max(range.im_least, -most_along(true, -1));
}

bool PieceTest::narrow(const HeldForm& form, const std::vector<Complex>& corners,
                       const Separation& separation, Cell& cell) const {
  const std::size_t count = totals_.size();
  std::vector<double> blame(count, 0.0);
  double error = 0;
  for (const Complex& v : corners) {
    const std::vector<double> shares = form.shares(v);
    for (std::size_t f = 0; f < count; ++f) blame[f] = std::max(blame[f], shares[f]);
    error = std::max(error, form.error(v));
  }
  std::vector<PlaneBox> narrowed(count, {kNever, -kNever, kNever, -kNever});
  std::vector<std::vector<double>> excess(cloud_.elements.size());
  std::vector<Complex> costs;
  bool possible = false;
  for (const Complex& v : corners) {
    form.coefficients(v, costs);
    Complex offset = form.at_center(v);
    for (std::size_t f = 0; f < count; ++f) offset -= costs[f] * form.center()[f];
    for (Complex& c : costs) c *= std::conj(separation.direction);
    double allowance = error - (std::conj(separation.direction) * offset).real();
    for (std::size_t k = 0; k < cell.cuts.size(); ++k) {
      const Cut& cut = cell.cuts[k];
      costs[cut.total] += separation.multipliers[k] * std::conj(cut.direction);
      allowance += separation.multipliers[k] * cut.most;
    }
    for (std::size_t n = 0; n < excess.size(); ++n) {
      costs_of_points(cloud_.elements[n], totals_.of_element[n], costs, excess[n]);
      const double least = *std::min_element(excess[n].begin(), excess[n].end());
      for (double& cost : excess[n]) cost -= least;
      allowance -= least;
    }
    if (allowance < 0) continue;  // no mix attains this corner's V
    possible = true;
    for (std::size_t f = 0; f < count; ++f) {
      PlaneBox range = cell.ranges[f];
      if (blame[f] > kNegligible * error) {
        tighten(f, excess, allowance, form.center(), range);
      }
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

void PieceTest::note(const Separation& separation) {
  if (separation.last.empty()) return;
  meeting_.nearest = separation.last.back();
  meeting_.other = separation.last.front();
  for (const Choice& choice : separation.last) {
    if (choice != meeting_.nearest) meeting_.other = choice;
  }
}

PieceResult PieceTest::test_cell(const std::vector<Complex>& corners, Cell cell, int depth,
                                 int& tests_left) {
  Complex middle{};
  for (const Complex& v : corners) middle += v / static_cast<double>(corners.size());
  std::optional<HeldForm> form;
  int left_out = HeldForm::kChoose;
  double before = kNever;
  for (int pass = 0; pass < kMostNarrowings; ++pass) {
    form.emplace(problem_, totals_, cell.ranges, middle, left_out);
    if (!form->usable()) break;
    left_out = form->left_out();
    double error = 0;
    for (const Complex& v : corners) error = std::max(error, form->error(v));
    if (pass > 0 && error > kWorthNarrowing * before) break;
    before = error;
    // Where the error is small against the piece, r itself is brought to zero, to see what is there.
    const double size = std::abs(form->at_center(corners[0]) - form->at_center(corners[1]));
    const bool small = error <= kSmallError * size;
    const double enough = small ? kNear * error : kNever;
    const Separation separation = separate(*form, corners, cell, error, enough, tests_left);
    if (separation.excluded) return PieceResult::Excluded;
    note(separation);
    if (tests_left <= 0) return PieceResult::GaveUp;
    if (separation.reached && small) {
      // To first order the mix attains a V of the piece; what it attains truly decides.
      if (on_far_side(value_of_totals(problem_, totals_, separation.mix), corners)) {
        return PieceResult::Attained;
      }
    }
    if (!narrow(*form, corners, separation, cell)) return PieceResult::Excluded;
  }
  if (depth >= kMostDepth) return PieceResult::Attained;
  // The total most to blame, across its longer side.
  const std::vector<double> shares = form->shares(middle);
  const auto worst = std::max_element(shares.begin(), shares.end());
  if (*worst <= 0) return PieceResult::Attained;
  const auto total = static_cast<std::size_t>(worst - shares.begin());
  const PlaneBox& range = cell.ranges[total];
  const bool real = range.re_most - range.re_least >= range.im_most - range.im_least;
  const Complex along = real ? Complex(1) : Complex(0, 1);
  const double line = dividing_line(real ? range.re_least : range.im_least,
                                    real ? range.re_most : range.im_most);
  for (int side = 0; side < 2; ++side) {
    Cell half = cell;
    PlaneBox& part = half.ranges[total];
    (real ? (side == 0 ? part.re_most : part.re_least)
          : (side == 0 ? part.im_most : part.im_least)) = line;
    const Cut cut{total, side == 0 ? along : -along, side == 0 ? line : -line};
    const auto same = std::find_if(half.cuts.begin(), half.cuts.end(), [&](const Cut& c) {
      return c.total == cut.total && c.direction == cut.direction;
    });
    if (same == half.cuts.end()) {
      half.cuts.push_back(cut);
    } else {
      *same = cut;
    }
    const PieceResult result = test_cell(corners, std::move(half), depth + 1, tests_left);
    if (result != PieceResult::Excluded) return result;
  }
  return PieceResult::Excluded;
}

}  // namespace evenleg
