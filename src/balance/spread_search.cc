#include "src/balance/spread_search.h"

#include <algorithm>
#include <map>
#include <optional>

#include "src/balance/near_point.h"

namespace evenleg {
namespace {

constexpr double kGain = 1e-9;  // A: less is rounding

// All sums of some units with so many moves each.
struct Sums {
  std::vector<double> points;
  std::vector<Seats> seats;
  std::vector<std::vector<std::uint8_t>> options;
  [[nodiscard]] std::size_t size() const { return seats.size(); }
};

// Differences of the legs two by two.
void add_differences(const std::vector<double>& amps, std::size_t scenarios, std::size_t legs,
                     double sign, double* point) {
  std::size_t k = 0;
  for (std::size_t s = 0; s < scenarios; ++s) {
    for (std::size_t i = 0; i < legs; ++i) {
      for (std::size_t j = i + 1; j < legs; ++j) {
        point[k++] += sign * (amps[s * legs + i] - amps[s * legs + j]);
      }
    }
  }
}

Seats added(Seats a, const Seats& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] = static_cast<std::int16_t>(a[i] + b[i]);
  return a;
}

class Search {
 public:
  Search(const SpreadProblem& problem, double as_found, const SpreadLimits& limits,
         const SpreadProgress& progress)
      : problem_(problem), as_found_(as_found), limits_(limits), progress_(progress),
        coordinates_(problem.scenarios * problem.legs * (problem.legs - 1) / 2) {
    constexpr std::size_t kFewCoordinates = 10;  // with more, boxes leave out little
    if (limits_.most_sums > 0) return;
    limits_.most_sums = std::size_t{1} << (coordinates_ <= kFewCoordinates ? 20 : 18);
  }

  SpreadPlans run() {
    divide();
    int most = 0;
    for (const auto& half : halves_) {
      int moves = 0;
      for (std::size_t u : half) moves += most_moves(problem_.units[u]);
      most += moves;
    }
    const int listed = most_listed(most);
    SpreadPlans plans;
    plans.complete = listed >= most;
    plans.searched_moves = listed;
    low_ = all_sums(halves_[0], listed);
    high_ = all_sums(halves_[1], listed);
    std::vector<PointTree> trees;
    for (const Sums& sums : high_) trees.emplace_back(sums.points, coordinates_);
    double best = as_found_;
    for (int moves = 0; moves <= listed; ++moves) {
      if (progress_) progress_("searching plans by number of moves", moves, listed);
      std::optional<SpreadChoice> found = with_moves(moves, best, trees);
      if (!found) continue;
      best = found->spread;
      plans.best.push_back(std::move(*found));
    }
    return plans;
  }

 private:
  static int most_moves(const SpreadUnit& unit) {
    int most = 0;
    for (const UnitOption& option : unit.options) most = std::max(most, option.moves);
    return most;
  }

  // Units go to the half that has fewer sums so far, those with most options first.
  void divide() {
    std::vector<std::size_t> order;
    for (std::size_t u = 0; u < problem_.units.size(); ++u) order.push_back(u);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return problem_.units[a].options.size() > problem_.units[b].options.size();
    });
    double sums[2] = {1, 1};
    for (std::size_t u : order) {
      const int half = sums[0] <= sums[1] ? 0 : 1;
      sums[half] *= static_cast<double>(problem_.units[u].options.size());
      halves_[half].push_back(u);
    }
  }

  // How many sums a half has by their moves.
  [[nodiscard]] std::vector<double> counts(const std::vector<std::size_t>& half) const {
    std::vector<double> count{1};
    for (std::size_t u : half) {
      const SpreadUnit& unit = problem_.units[u];
      std::vector<double> next(count.size() + static_cast<std::size_t>(most_moves(unit)), 0.0);
      for (std::size_t m = 0; m < count.size(); ++m) {
        for (const UnitOption& option : unit.options) {
          next[m + static_cast<std::size_t>(option.moves)] += count[m];
        }
      }
      count = std::move(next);
    }
    return count;
  }

  // The most moves for which neither half has more sums than may be listed.
  [[nodiscard]] int most_listed(int most) const {
    int listed = most;
    for (const auto& half : halves_) {
      const std::vector<double> count = counts(half);
      double sums = 0;
      for (std::size_t m = 0; m < count.size(); ++m) {
        sums += count[m];
        if (sums > static_cast<double>(limits_.most_sums)) {
          listed = std::min(listed, static_cast<int>(m) - 1);
          break;
        }
      }
    }
    return listed;
  }

  [[nodiscard]] std::vector<Sums> all_sums(const std::vector<std::size_t>& half, int listed) const {
    std::vector<Sums> sums(static_cast<std::size_t>(listed) + 1);
    sums[0].points.assign(coordinates_, 0.0);
    sums[0].seats.emplace_back(problem_.fixed_seats.size(), std::int16_t{0});
    sums[0].options.emplace_back();
    for (std::size_t u : half) {
      std::vector<Sums> next(sums.size());
      for (std::size_t m = 0; m < sums.size(); ++m) {
        for (std::size_t i = 0; i < sums[m].size(); ++i) {
          for (std::size_t o = 0; o < problem_.units[u].options.size(); ++o) {
            const UnitOption& option = problem_.units[u].options[o];
            const std::size_t moves = m + static_cast<std::size_t>(option.moves);
            if (moves >= next.size()) continue;
            Sums& into = next[moves];
            const auto point = sums[m].points.begin() +
                               static_cast<std::ptrdiff_t>(i * coordinates_);
            into.points.insert(into.points.end(), point,
                               point + static_cast<std::ptrdiff_t>(coordinates_));
            add_differences(option.amps, problem_.scenarios, problem_.legs, 1,
                            into.points.data() + into.points.size() - coordinates_);
            into.seats.push_back(added(sums[m].seats[i], option.seats));
            into.options.push_back(sums[m].options[i]);
            into.options.back().push_back(static_cast<std::uint8_t>(o));
          }
        }
      }
      sums = std::move(next);
    }
    return sums;
  }

  // The best of exactly so many moves, where it is better than `best`.
  std::optional<SpreadChoice> with_moves(int moves, double best,
                                         const std::vector<PointTree>& trees) {
    std::optional<SpreadChoice> found;
    std::vector<double> base(coordinates_, 0.0);
    add_differences(problem_.fixed, problem_.scenarios, problem_.legs, 1, base.data());
    std::vector<double> center(coordinates_);
    for (int low = 0; low <= moves; ++low) {
      const Sums& a = low_[static_cast<std::size_t>(low)];
      const Sums& b = high_[static_cast<std::size_t>(moves - low)];
      const PointTree& tree = trees[static_cast<std::size_t>(moves - low)];
      for (std::size_t i = 0; i < a.size() && b.size() > 0; ++i) {
        for (std::size_t k = 0; k < coordinates_; ++k) {
          center[k] = -base[k] - a.points[i * coordinates_ + k];
        }
        tree.near(center, best - kGain, [&](std::size_t j, double distance) {
          if (!buildable(added(added(problem_.fixed_seats, a.seats[i]), b.seats[j]))) {
            return best - kGain;
          }
          best = distance;
          found = choice_of(moves, distance, a.options[i], b.options[j]);
          return best - kGain;
        });
      }
    }
    return found;
  }

  bool buildable(const Seats& seats) {
    if (!problem_.buildable) return true;
    const auto known = buildable_.find(seats);
    if (known != buildable_.end()) return known->second;
    return buildable_[seats] = problem_.buildable(seats);
  }

  [[nodiscard]] SpreadChoice choice_of(int moves, double spread,
                                       const std::vector<std::uint8_t>& low,
                                       const std::vector<std::uint8_t>& high) const {
    SpreadChoice choice{moves, spread, std::vector<int>(problem_.units.size(), 0)};
    for (std::size_t i = 0; i < low.size(); ++i) choice.options[halves_[0][i]] = low[i];
    for (std::size_t i = 0; i < high.size(); ++i) choice.options[halves_[1][i]] = high[i];
    return choice;
  }

  const SpreadProblem& problem_;
  double as_found_;
  SpreadLimits limits_;
  const SpreadProgress& progress_;
  std::size_t coordinates_;
  std::vector<std::size_t> halves_[2];  // units
  std::vector<Sums> low_, high_;        // by moves
  std::map<Seats, bool> buildable_;
};

}  // namespace

SpreadPlans smallest_spreads(const SpreadProblem& problem, double as_found,
                             const SpreadLimits& limits, const SpreadProgress& progress) {
  return Search(problem, as_found, limits, progress).run();
}

}  // namespace evenleg
