// Soundness of the piece test: a piece of curve on which some choice's V lies is never excluded, whatever
// the choice, its V and the piece.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>

#include "src/audit/piece.h"
#include "src/audit/search.h"
#include "tests/audit/generated_house.h"
#include "tests/audit/one_question.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

constexpr int kTests = 20000;

// Two corners with v between them, or three around it, up to `size` volts away.
std::vector<Complex> corners_about(Complex v, double size, Dice& dice) {
  const double angle = dice.between(0, 6.28);
  const Complex along = std::polar(size, angle);
  if (dice.chance(0.5)) return {v - dice.between(0, 1) * along, v + dice.between(0, 1) * along};
  constexpr double kThird = 2.0943951;
  return {v + along, v + std::polar(size * dice.between(0.1, 1), angle + kThird),
          v + std::polar(size * dice.between(0.1, 1), angle - kThird)};
}

struct Count {
  int asked = 0;
  int excluded_elsewhere = 0;  // pieces far from what is attained
};

void check_choice(const Problem& problem, PieceTest& piece, const Choice& choice, Dice& dice,
                  Count& count) {
  if (!groups_agree(*problem.elements, choice) || !is_joined(problem, choice)) return;
  const Complex v = value(problem, choice);
  for (double size : {0.05, 1.0, 20.0}) {
    CAPTURE(size);
    int tests = kTests;
    CHECK(piece.test(corners_about(v, size, dice), 0, dice.chance(0.5), tests) !=
          PieceResult::Excluded);
    ++count.asked;
  }
  // One that is excluded: no passive circuit of one house reaches ten thousand volts.
  int tests = kTests;
  const Complex far = std::polar(10000.0, dice.between(0, 6.28));
  if (piece.test({far, far * 1.001}, 0, true, tests) == PieceResult::Excluded) {
    ++count.excluded_elsewhere;
  }
}

void check_house(const House& described, const Tables& tables, Dice& dice, int loads,
                 Count& count) {
  const BuiltHouse house = built(described, tables);
  const Credible credible = credible_states(house.house, house.model);
  for (const Place& place : house.places) {
    if (in_cable(place)) continue;
    for (int run = 0; run < loads; ++run) {
      const int load = dice.below(static_cast<int>(house.model.loads.size()));
      CAPTURE(place.name);
      CAPTURE(load);
      const auto question = question_about(house, credible, place, load);
      if (!question) continue;
      const Problem& problem = question->problem;
      const Totals totals = totals_of(problem);
      const Cloud cloud = cloud_of(problem, true);
      PieceTest piece(problem, totals, cloud);
      check_choice(problem, piece, any_states(problem, dice), dice, count);
      // Near the extremes the ranges narrow most.
      for (Goal goal : {Goal::Highest, Goal::Lowest}) {
        const auto found = search(problem, goal, heaviest_choice(problem));
        if (found) check_choice(problem, piece, found->choice, dice, count);
      }
    }
  }
}

TEST_CASE("piece test: what some choice attains is never excluded") {
  const Tables tables = load_tables();
  Dice dice(23);
  Count count;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    check_house(random_house(seed), tables, dice, 2, count);
  }
  for (int loads : {30, 60, 120}) check_house(generated_house(loads), tables, dice, 8, count);
  CHECK(count.asked > 600);
  CHECK(count.excluded_elsewhere > count.asked / 6);
}

}  // namespace
}  // namespace evenleg
