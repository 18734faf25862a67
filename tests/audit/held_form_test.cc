// The error bound that every certificate rests on, against exact values: for random choices, r at the V
// that the choice truly gives is within the error of zero.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "evenleg/base/index.h"
#include "src/audit/cloud.h"
#include "src/audit/held_form.h"
#include "tests/audit/generated_house.h"
#include "tests/audit/one_question.h"
#include "tests/check.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

constexpr double kRounding = 1e-9;  // amperes or volts, and of those at hand

// Σ_e |y_e - base_e| of each total: the most that a price may be charged on.
std::vector<double> distances(const Problem& problem, const Totals& totals, const Choice& a,
                              const Choice& b) {
  std::vector<double> far(totals.size());
  std::vector<Complex> x;
  std::vector<Complex> y;
  for (std::size_t n = 0; n < a.size(); ++n) {
    features_of(problem, n, a[n], x);
    features_of(problem, n, b[n], y);
    for (std::size_t f = 0; f < x.size(); ++f) {
      far[at(totals.of_element[n][f])] += std::abs(x[f] - y[f]);
    }
  }
  return far;
}

struct Seen {
  int usable = 0;
  double tightest = 0;  // the most that |r| was of its error
};

void check_choice(const Problem& problem, const Totals& totals, const HeldForm& form,
                  const Choice& base, const Choice& choice, Seen& seen) {
  if (!form.usable()) return;
  const Complex v = value(problem, choice);
  const std::vector<Complex> sums = sums_of(problem, totals, choice);
  std::vector<Complex> c;
  form.coefficients(v, c);
  Complex r = form.at_center(v);
  double size = std::abs(r);
  for (std::size_t f = 0; f < c.size(); ++f) {
    r += c[f] * (sums[f] - form.bases()[f].center);
    size += std::abs(c[f] * (sums[f] - form.bases()[f].center));
  }
  std::vector<double> prices;
  double error = form.error(v, prices);
  const std::vector<double> far = distances(problem, totals, base, choice);
  for (std::size_t f = 0; f < prices.size(); ++f) error += prices[f] * far[f];
  CHECK(std::abs(r) <= error + kRounding * (1 + size));
  if (error > kRounding * (1 + size)) {
    ++seen.usable;
    seen.tightest = std::max(seen.tightest, std::abs(r) / error);
  }
}

void check_house(const House& described, const Tables& tables, Dice& dice, Seen& seen) {
  const BuiltHouse house = built(described, tables);
  const Credible credible = credible_states(house.house, house.model);
  for (const Place& place : house.places) {
    if (in_cable(place)) continue;
    const int load = dice.below(static_cast<int>(house.model.loads.size()));
    const auto question = question_about(house, credible, place, load);
    if (!question) continue;
    const Problem& problem = question->problem;
    const Totals totals = totals_of(problem);
    const std::vector<PlaneBox> ranges = ranges_of(totals, cloud_of(problem, false));
    const Choice base = any_states(problem, dice);
    if (!is_joined(problem, base)) continue;
    const std::vector<Complex> base_sums = sums_of(problem, totals, base);
    std::vector<Base> priced = central(ranges);
    for (std::size_t f = 0; f < priced.size(); ++f) {
      if (f % 3 == 0) continue;  // some stay bounded
      const double reach = std::abs(base_sums[f] - ranges[f].center()) + ranges[f].radius();
      priced[f] = {base_sums[f], reach, true};
    }
    for (int way : ways_of(problem)) {
      const HeldForm central_form(problem, totals, central(ranges), way);
      const HeldForm priced_form(problem, totals, priced, way);
      for (int run = 0; run < 6; ++run) {
        const Choice choice = any_states(problem, dice);
        if (!is_joined(problem, choice)) continue;
        const Complex exact = value(problem, choice);
        CHECK(close(value_of_totals(problem, totals, sums_of(problem, totals, choice)), exact,
                    kRounding * (1 + std::abs(exact))));
        check_choice(problem, totals, central_form, base, choice, seen);
        check_choice(problem, totals, priced_form, base, choice, seen);
      }
    }
  }
}

TEST_CASE("held form: r of what a choice truly gives is within its error, in every way") {
  const Tables tables = load_tables();
  Dice dice(77);
  Seen seen;
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    CAPTURE(seed);
    check_house(random_house(seed), tables, dice, seen);
  }
  check_house(generated_house(60), tables, dice, seen);
  check_house(generated_house(120), tables, dice, seen);
  // Bounds that were never used, or never came near what they bound, would pass all of the above.
  CHECK(seen.usable > 500);
  CHECK(seen.tightest > 0.1);
  CHECK(seen.tightest <= 1 + kRounding);
}

}  // namespace
}  // namespace evenleg
