// Soundness of separation and narrowing in one cell: a choice whose totals lie in the cell, on a piece that
// its V lies on, is neither excluded nor left outside the narrowed ranges. And halves leave nothing out.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "src/audit/narrowing.h"
#include "src/audit/search.h"
#include "tests/audit/generated_house.h"
#include "tests/audit/one_question.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

constexpr double kHair = 1e-9;  // siemens
constexpr int kTests = 20000;

bool holds(const PlaneBox& box, Complex total) {
  return total.real() >= box.re_least - kHair && total.real() <= box.re_most + kHair &&
         total.imag() >= box.im_least - kHair && total.imag() <= box.im_most + kHair;
}

// Each side moved towards the totals, by at most all of the way, and taken in as a cut.
Cell cell_about(const std::vector<PlaneBox>& ranges, const std::vector<Complex>& sums, Dice& dice) {
  Cell cell{ranges, {}};
  const double share = dice.pick<double>({0, 0.5, 0.9, 1});
  const auto nearer = [&](double side, double total) { return side + share * (total - side); };
  std::vector<Complex> beyond;
  for (std::size_t f = 0; f < ranges.size(); ++f) {
    PlaneBox& box = cell.ranges[f];
    box = {nearer(box.re_least, sums[f].real()), nearer(box.re_most, sums[f].real()),
           nearer(box.im_least, sums[f].imag()), nearer(box.im_most, sums[f].imag())};
    beyond.push_back(dice.pick<Complex>({{1e3, 0}, {-1e3, 0}, {0, 1e3}, {0, -1e3}}) + sums[f]);
  }
  cell.cut_off(beyond);
  return cell;
}

int check_choice(const Problem& problem, const Choice& choice, Dice& dice) {
  if (!groups_agree(*problem.elements, choice) || !is_joined(problem, choice)) return 0;
  const Totals totals = totals_of(problem);
  const Cloud cloud = cloud_of(problem, true);
  const Separator separator(problem, totals, cloud);
  const Narrowing narrowing(totals, cloud, separator);
  const Complex v = value(problem, choice);
  const std::vector<Complex> sums = sums_of(problem, totals, choice);
  const Complex step = std::polar(dice.pick<double>({0.01, 1, 30}), dice.between(0, 6.28));
  const std::vector<Complex> corners{v - step, v + dice.between(0, 1) * step};
  Cell cell = cell_about(ranges_of(totals, cloud), sums, dice);
  const std::vector<int> ways = ways_of(problem);
  const HeldForm form(problem, totals, central(cell.ranges), dice.pick(ways));
  if (!form.usable()) return 0;
  const View view = separator.view_of(form, corners, cell, {});
  int tests = kTests;
  const Separation separation = separator.separate(view, cell, 0, tests);
  CHECK_FALSE(separation.excluded);
  CHECK(narrowing.narrow(view, separation, std::vector<bool>(totals.size(), true), cell));
  for (std::size_t f = 0; f < totals.size(); ++f) {
    CAPTURE(f);
    CHECK(holds(cell.ranges[f], sums[f]));
  }
  const bool cut = std::any_of(separation.multipliers.begin(), separation.multipliers.end(),
                               [](double m) { return m > 0; });
  return cut ? 1 : 0;
}

int check_house(const House& described, const Tables& tables, Dice& dice, int loads) {
  const BuiltHouse house = built(described, tables);
  const Credible credible = credible_states(house.house, house.model);
  int with_cuts = 0;
  for (const Place& place : house.places) {
    if (in_cable(place)) continue;
    for (int run = 0; run < loads; ++run) {
      const int load = dice.below(static_cast<int>(house.model.loads.size()));
      const auto question = question_about(house, credible, place, load);
      if (!question) continue;
      with_cuts += check_choice(question->problem, any_states(question->problem, dice), dice);
      const auto found = search(question->problem, Goal::Highest, std::nullopt);
      if (found) with_cuts += check_choice(question->problem, found->choice, dice);
    }
  }
  return with_cuts;
}

TEST_CASE("narrowing: a choice of the cell stays in it") {
  const Tables tables = load_tables();
  Dice dice(31);
  int with_cuts = 0;
  for (std::uint64_t seed = 100; seed < 180; ++seed) {
    CAPTURE(seed);
    with_cuts += check_house(random_house(seed), tables, dice, 3);
  }
  with_cuts += check_house(generated_house(60), tables, dice, 20);
  CHECK(with_cuts > 50);  // the cuts' multipliers were in use
}

// Loads across two legs, and volts near zero: holding V says little there, and what rounding leaves
// must not part a choice from its own V. Each of these has such a choice.
TEST_CASE("narrowing: where V hardly depends on the balance, rounding excludes nothing") {
  const Tables tables = load_tables();
  const std::pair<std::uint32_t, std::uint64_t> runs[] = {{12, 5100}, {23, 2100}, {28, 100}};
  for (const auto& [dice_seed, first] : runs) {
    Dice dice(dice_seed);
    for (std::uint64_t seed = first; seed < first + 80; ++seed) {
      CAPTURE(dice_seed);
      CAPTURE(seed);
      check_house(random_house(seed), tables, dice, 3);
    }
  }
}

TEST_CASE("cell: its halves are the whole, across the longer side") {
  Cell cell{{{0, 4, -1, 1}, {0, 1, -3, 5}, {1, 9, 0, 0}}, {}};
  for (std::size_t total = 0; total < cell.ranges.size(); ++total) {
    CAPTURE(total);
    const auto [low, high] = halves(cell, total);
    const PlaneBox& whole = cell.ranges[total];
    const PlaneBox& a = low.ranges[total];
    const PlaneBox& b = high.ranges[total];
    const bool real = total != 1;
    CHECK(a.re_least == whole.re_least);
    CHECK(b.re_most == whole.re_most);
    CHECK(a.im_least == whole.im_least);
    CHECK(b.im_most == whole.im_most);
    CHECK(a.re_most == (real ? b.re_least : whole.re_most));
    CHECK(a.im_most == (real ? whole.im_most : b.im_least));
  }
  // By the ratio of its ends where both are above zero: 1 to 3 to 9.
  CHECK(halves(cell, 2).first.ranges[2].re_most == doctest::Approx(3));
}

}  // namespace
}  // namespace evenleg
