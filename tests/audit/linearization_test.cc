// One element changed alone, against the solution of the whole house for the changed choice.
#include "src/audit/linearization.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>

#include "evenleg/base/index.h"
#include "tests/audit/generated_house.h"
#include "tests/audit/one_question.h"
#include "tests/network/random_house.h"

namespace evenleg {
namespace {

constexpr double kRounding = 1e-9;  // volts

// How many changes were compared.
int check_changes(const Problem& problem, Dice& dice) {
  const Choice base = any_states(problem, dice);
  if (!is_joined(problem, base)) return 0;
  const Gradient here = gradient(problem, base);
  CHECK(std::abs(here.v - value(problem, base)) < kRounding);
  int compared = 0;
  for (std::size_t n = 0; n < base.size(); ++n) {
    Choice next = base;
    next[n] = problem.allowed[n][at(dice.below(static_cast<int>(problem.allowed[n].size())))];
    if (!is_joined(problem, next)) continue;
    CAPTURE(n);
    const Complex by_one = value_with(problem, base, here, n, next[n]);
    CHECK(std::abs(by_one - value(problem, next)) < kRounding);
    compared += next[n] != base[n] ? 1 : 0;
  }
  return compared;
}

int check_house(const House& described, const Tables& tables, Dice& dice) {
  const BuiltHouse house = built(described, tables);
  const Credible credible = credible_states(house.house, house.model);
  int compared = 0;
  for (const Place& place : house.places) {
    if (in_cable(place)) continue;
    const int load = dice.below(static_cast<int>(house.model.loads.size()));
    const auto question = question_about(house, credible, place, load);
    if (question) compared += check_changes(question->problem, dice);
  }
  return compared;
}

TEST_CASE("one element changed alone gives the volts of the changed house") {
  const Tables tables = load_tables();
  Dice dice(11);
  int compared = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    compared += check_house(random_house(seed), tables, dice);
  }
  CHECK(compared > 100);
  for (int loads : {30, 120}) {
    CHECK(check_house(generated_house(loads), tables, dice) > loads / 4);
  }
}

}  // namespace
}  // namespace evenleg
