#include "src/audit/neutral_limit.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "evenleg/base/index.h"
#include "src/audit/ranking.h"

namespace evenleg {
namespace {

constexpr double kSame = 1e-7;  // per unit of a limit: as near as that counts as at it
constexpr double kProvenWithin = 0.01;  // volts past a limit that a proof may leave open

struct Past {
  std::size_t asked = 0;
  int load = 0;
  double limit = 0;
  double over = 1;  // how far past: volts over limit, or limit over volts
};

// The tightest limit among the loads that one of the asked stands for.
std::optional<Past> tightest(const PlaceQuestion& question, std::size_t asked,
                             const LoadLimits& limits, Goal goal) {
  std::optional<Past> result;
  for (int load : question.loads_of_asked()[asked]) {
    const std::optional<double>& limit = limits[at(load)];
    if (!limit) continue;
    if (!result || improves(goal, result->limit, *limit)) result = Past{asked, load, *limit};
  }
  return result;
}

const std::optional<Extreme<Volts>>& side(const Extremes<Volts>& extremes, Goal goal) {
  return goal == Goal::Highest ? extremes.highest : extremes.lowest;
}

// Volts over limit, or limit over volts, of one of the asked; nothing where it has none or was not
// searched.
std::optional<Past> past_limit(const PlaceQuestion& question, std::size_t asked,
                               const LoadLimits& limits, Goal goal) {
  const auto& extreme = side(question.fault_case().extremes()[asked], goal);
  std::optional<Past> here = tightest(question, asked, limits, goal);
  if (!extreme || !here) return std::nullopt;
  const double volts = extreme->value.si();
  here->over = goal == Goal::Highest ? volts / here->limit : here->limit / volts;
  return here;
}

// The load that is furthest past its limit.
std::optional<Past> furthest_past(const PlaceQuestion& question, const LoadLimits& limits,
                                  Goal goal) {
  std::optional<Past> furthest;
  for (std::size_t i = 0; i < question.asked().size(); ++i) {
    const std::optional<Past> here = past_limit(question, i, limits, goal);
    if (!here || here->over <= 1 + kSame) continue;
    if (!furthest || here->over > furthest->over) furthest = here;
  }
  return furthest;
}

// The first few in the order of how near they are to their limits, or past them.
std::vector<Past> nearest(const PlaceQuestion& question, const LoadLimits& limits, Goal goal,
                          std::size_t most) {
  std::vector<Past> all;
  for (std::size_t i = 0; i < question.asked().size(); ++i) {
    if (const auto here = past_limit(question, i, limits, goal)) all.push_back(*here);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Past& a, const Past& b) { return a.over > b.over; });
  if (all.size() > most) all.resize(most);
  return all;
}

}  // namespace

LoadLimits high_limits(const House& house, const Model& model, const Tables& tables) {
  LoadLimits limits;
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    limits.emplace_back(withstood_volts(house.loads[l], model.loads[l], tables).si());
  }
  return limits;
}

LoadLimits low_limits(const std::vector<LoadBehaviour>& behaviours) {
  LoadLimits limits;
  for (const LoadBehaviour& load : behaviours) {
    const double least =
        std::max(load.law.off_below.value_or(0), load.law.stalls_below.value_or(0));
    limits.push_back(least > 0 ? std::optional(least * load.nameplate_volts) : std::nullopt);
  }
  return limits;
}

LoadLimits of_those_asked(const PlaceQuestion& question, const LoadLimits& limits) {
  LoadLimits own(limits.size());
  for (const std::vector<int>& loads : question.loads_of_asked()) {
    for (int load : loads) own[at(load)] = limits[at(load)];
  }
  return own;
}

double over_limit(const PlaceQuestion& question, std::size_t asked, const LoadLimits& limits) {
  const std::optional<Past> here = past_limit(question, asked, limits, Goal::Highest);
  return here ? here->over : -1;
}

std::optional<double> first_root(const Model& model, const Place& place, const std::vector<int>& on,
                                 int load, double limit, Goal goal) {
  std::vector<bool> running(model.loads.size(), false);
  for (int l : on) running[at(l)] = true;
  const std::vector<Complex> loads = admittances(model, running);
  const auto volts_with = [&](double ohms) {
    return solve(model, loads, NeutralFault{place, ohms}).load_volts[at(load)];
  };
  const Complex sound = volts_with(0);
  const Complex open = volts_with(kOpen);
  if (improves(goal, std::abs(sound), limit)) return 0.0;
  constexpr int kRefinements = 3;  // each with the root as the third solution
  double ohms = 1;
  for (int round = 0; round < kRefinements; ++round) {
    const Complex third = volts_with(ohms);
    if (third == open) return std::nullopt;
    const Complex k = (sound - third) / (ohms * (third - open));
    const double square = limit * limit;
    const double a = std::norm(k) * (std::norm(open) - square);
    const double b = 2 * (std::conj(sound) * k * open - square * k).real();
    const double c = std::norm(sound) - square;
    const double discriminant = b * b - 4 * a * c;
    if (discriminant < 0 || (a == 0 && b == 0)) return std::nullopt;
    // The two roots without taking like numbers from each other.
    const double q = -(b + std::copysign(std::sqrt(discriminant), b)) / 2;
    double first = kOpen;
    for (const double root : {a != 0 ? q / a : -1, q != 0 ? c / q : -1}) {
      if (root > 0) first = std::min(first, root);
    }
    if (first == kOpen) return std::nullopt;
    ohms = first;
  }
  return ohms;
}

bool any_past(const PlaceQuestion& question, const LoadLimits& limits, Goal goal) {
  return furthest_past(question, limits, goal).has_value();
}

bool none_past(PlaceQuestion& question, const LoadLimits& limits, Goal goal) {
  bool proven = true;
  for (std::size_t i = 0; i < question.asked().size(); ++i) {
    const std::optional<Past> here = tightest(question, i, limits, goal);
    if (!here) continue;
    const double slack = goal == Goal::Highest ? kProvenWithin : -kProvenWithin;
    proven = question.fault_case().prove_within(i, goal, here->limit + slack) && proven;
  }
  return proven;
}

std::vector<std::size_t> LimitFinder::likely_first(const PlaceQuestion& start,
                                                   const LoadLimits& limits, Goal goal) const {
  constexpr std::size_t kFew = 6;  // of each list; with proof all are asked in the end
  std::vector<std::size_t> likely;
  for (const Past& past : nearest(start, limits, goal, kFew)) likely.push_back(past.asked);
  const LoadLimits own = of_those_asked(start, limits);
  for (const Past& past : nearest(sound_, own, goal, kFew)) {
    for (std::size_t i = 0; i < start.asked().size(); ++i) {
      const std::vector<int>& loads = start.loads_of_asked()[i];
      if (std::find(loads.begin(), loads.end(), past.load) != loads.end()) likely.push_back(i);
    }
  }
  std::sort(likely.begin(), likely.end());
  likely.erase(std::unique(likely.begin(), likely.end()), likely.end());
  return likely;
}

std::optional<LoadLimits> LimitFinder::kept_when_sound(const LoadLimits& limits,
                                                       Goal goal) const {
  LoadLimits kept = limits;
  bool any = false;
  for (std::size_t i = 0; i < sound_.asked().size(); ++i) {
    const auto& extreme = side(sound_.fault_case().extremes()[i], goal);
    for (int load : sound_.loads_of_asked()[i]) {
      std::optional<double>& limit = kept[at(load)];
      if (!extreme || !limit || !improves(goal, extreme->value.si(), *limit)) continue;
      limit.reset();
      any = true;
    }
  }
  return any ? std::optional(kept) : std::nullopt;
}

std::optional<NeutralLimit> LimitFinder::from(const PlaceQuestion& start, const LoadLimits& limits,
                                              Goal goal) const {
  std::optional<Past> past = furthest_past(start, limits, goal);
  if (!past) return std::nullopt;
  const std::vector<std::size_t> likely = likely_first(start, limits, goal);
  std::vector<std::size_t> all(start.asked().size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::optional<PlaceQuestion> here;
  std::optional<NeutralLimit> limit;
  constexpr int kMostRounds = 100;  // far more than were ever needed: a handful
  for (int round = 0; past && round < kMostRounds; ++round) {
    const PlaceQuestion& question = here ? *here : start;
    const auto& extreme = side(question.fault_case().extremes()[past->asked], goal);
    NeutralLimit lower;
    lower.load = past->load;
    lower.volts = volts(past->limit);
    lower.on = with_load(extreme->on, question.asked()[past->asked].load, past->load);
    const auto root =
        first_root(model_, start.fault().place, lower.on, past->load, past->limit, goal);
    if (!root) return limit;  // rounding: at the limit and not past it
    lower.ohms = ohms(*root);
    lower.proven = certify_ && *root == 0;  // no resistance is smaller
    limit = std::move(lower);
    if (*root == 0) return limit;
    PlaceQuestion next = start.with_ohms(*root);
    next.fault_case().search(goal, likely, question.fault_case());
    past = furthest_past(next, limits, goal);
    if (!past && certify_) {
      next.fault_case().search(goal, all, question.fault_case());
      past = furthest_past(next, limits, goal);
      if (!past) {
        limit->proven = none_past(next, limits, goal);
        past = furthest_past(next, limits, goal);  // a proof may have met a worse state
      }
    }
    here = std::move(next);
  }
  return limit;
}

}  // namespace evenleg
