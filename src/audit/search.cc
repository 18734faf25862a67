#include "src/audit/search.h"

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"
#include "src/audit/cloud.h"
#include "src/audit/linearization.h"

namespace evenleg {
namespace {

// Volts or amperes below which a gain is rounding.
constexpr double kLeastGain = 1e-9;
constexpr int kMostRounds = 60;

bool is_credible(const Problem& problem, const Choice& choice) {
  for (std::size_t n = 0; n < choice.size(); ++n) {
    const std::vector<int>& allowed = problem.allowed[n];
    if (!std::binary_search(allowed.begin(), allowed.end(), choice[n])) return false;
  }
  return groups_agree(*problem.elements, choice);
}

Complex heading(Complex v, Goal goal) {
  const double size = std::abs(v);
  const Complex along = size > 0 ? v / size : Complex(1);
  return goal == Goal::Highest ? along : -along;
}

// Adds the own element's state whose row gives most with the ports' volts as they are. Beyond a neutral
// that opens inside the cable V is far from linear in the state, while the ports hardly move.
void add_by_row(const Problem& problem, Goal goal, const Choice& choice,
                std::vector<std::pair<double, int>>& order) {
  const Vector p = port_volts(problem, choice);
  const std::vector<int>& ports = (*problem.elements)[at(problem.own)].ports;
  std::optional<std::pair<double, int>> best;
  for (int s : problem.allowed[at(problem.own)]) {
    Complex v{};
    for (std::size_t i = 0; i < ports.size(); ++i) {
      v += problem.tau[at(s) * ports.size() + i] * p(ports[i]);
    }
    if (!best || improves(goal, std::abs(v), best->first)) best = std::pair(std::abs(v), s);
  }
  if (best) order.insert(order.begin(), {0.0, best->second});
}

// The states of element `n` that promise most by first order, best first.
std::vector<std::pair<double, int>> likely_states(const Problem& problem, Goal goal,
                                                  const Choice& choice, const Gradient& now,
                                                  const PointSet& set, std::size_t n) {
  constexpr std::size_t kTried = 2;
  std::vector<Complex> base;
  features_of(problem, n, choice[n], base);
  const Complex toward = std::conj(heading(now.v, goal));
  std::vector<std::pair<double, int>> order;
  order.reserve(set.size());
  for (std::size_t i = 0; i < set.size(); ++i) {
    double cost = 0;
    for (std::size_t f = 0; f < set.features; ++f) {
      const Complex change(set.re[f * set.size() + i] - base[f].real(),
                           set.im[f * set.size() + i] - base[f].imag());
      cost += (toward * now.costs[n][f] * change).real();
    }
    order.emplace_back(cost, set.state[i]);
  }
  std::sort(order.begin(), order.end());
  order.resize(std::min(kTried, order.size()));
  return order;
}

// `found` with element `n` in `state`, should that be credible and an improvement. `now`: the
// gradient at what is found; by it most states are passed over without a solution of their own.
bool exchange(const Problem& problem, Goal goal, const Gradient& now, std::size_t n, int state,
              Found& found) {
  const std::vector<int>& allowed = problem.allowed[n];
  if (state == found.choice[n]) return false;
  if (!std::binary_search(allowed.begin(), allowed.end(), state)) return false;
  Choice next = found.choice;
  next[n] = state;
  if (!groups_agree(*problem.elements, next)) return false;
  if (is_joined(problem, found.choice) && is_joined(problem, next)) {
    const double by_one = std::abs(value_with(problem, found.choice, now, n, state));
    if (!improves(goal, by_one, found.magnitude)) return false;
  }
  const double magnitude = std::abs(value(problem, next));
  if (!improves(goal, magnitude, found.magnitude)) return false;
  found = {std::move(next), magnitude};
  return true;
}

// One pass over the elements, each alone with its best state by first order. `now`: the gradient at
// the choice found so far; most elements leave it as it is, and so it is seldom worked out anew.
bool exchange_one(const Problem& problem, Goal goal, const Cloud& cloud, Gradient now,
                  Found& found) {
  bool improved = false;
  bool moved = false;  // since `now`
  for (std::size_t n = 0; n < cloud.elements.size(); ++n) {
    if (cloud.elements[n].size() < 2) continue;
    if (moved) now = gradient(problem, found.choice);
    auto order = likely_states(problem, goal, found.choice, now, cloud.elements[n], n);
    if (static_cast<int>(n) == problem.own) add_by_row(problem, goal, found.choice, order);
    moved = std::any_of(order.begin(), order.end(), [&](const std::pair<double, int>& likely) {
      return exchange(problem, goal, now, n, likely.second, found);
    });
    improved = improved || moved;
  }
  return improved;
}

}  // namespace

bool improves(Goal goal, double a, double b) {
  return goal == Goal::Highest ? a > b + kLeastGain : a < b - kLeastGain;
}

std::optional<Found> search(const Problem& problem, Goal goal,
                            const std::optional<Choice>& start) {
  std::optional<Choice> first;
  if (start && is_credible(problem, *start)) first = start;
  if (!first) first = any_choice(problem);
  if (!first) return std::nullopt;
  Found found{*first, std::abs(value(problem, *first))};
  const Cloud cloud = cloud_of(problem, true);
  for (int round = 0; round < kMostRounds; ++round) {
    const Gradient now = gradient(problem, found.choice);
    std::vector<std::vector<Complex>> base(found.choice.size());
    for (std::size_t n = 0; n < base.size(); ++n) {
      features_of(problem, n, found.choice[n], base[n]);
    }
    const auto next = cheapest(cloud, turned(now.costs, heading(now.v, goal)), base);
    if (next && next->choice != found.choice) {
      const double magnitude = std::abs(value(problem, next->choice));
      if (improves(goal, magnitude, found.magnitude)) {
        found = {next->choice, magnitude};
        continue;
      }
    }
    if (!exchange_one(problem, goal, cloud, now, found)) break;
  }
  return found;
}

}  // namespace evenleg
