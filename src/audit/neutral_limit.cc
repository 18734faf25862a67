#include "src/audit/neutral_limit.h"

#include <algorithm>
#include <cmath>

#include "src/audit/ranking.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

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

// The load that is furthest past its limit.
std::optional<Past> furthest_past(const PlaceQuestion& question, const LoadLimits& limits,
                                  Goal goal) {
  std::optional<Past> furthest;
  for (std::size_t i = 0; i < question.asked().size(); ++i) {
    const auto& extreme = side(question.fault_case().extremes()[i], goal);
    std::optional<Past> here = tightest(question, i, limits, goal);
    if (!extreme || !here) continue;
    const double volts = extreme->value.si();
    here->over = goal == Goal::Highest ? volts / here->limit : here->limit / volts;
    if (here->over <= 1 + kSame) continue;
    if (!furthest || here->over > furthest->over) furthest = here;
  }
  return furthest;
}

// Whether no credible state is past any limit.
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
  const auto& highest = question.fault_case().extremes()[asked].highest;
  const std::optional<Past> limit = tightest(question, asked, limits, Goal::Highest);
  return highest && limit ? highest->value.si() / limit->limit : -1;
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

std::optional<NeutralLimit> LimitFinder::from(const PlaceQuestion& start, const LoadLimits& limits,
                                              Goal goal) const {
  const PlaceQuestion* question = &start;
  std::unique_ptr<PlaceQuestion> here;
  std::optional<NeutralLimit> limit;
  constexpr int kMostRounds = 100;  // far more than were ever needed: a handful
  for (int round = 0; round < kMostRounds; ++round) {
    std::optional<Past> past = furthest_past(*question, limits, goal);
    if (!past && limit) {
      limit->proven = certify_ && none_past(*here, limits, goal);
      past = furthest_past(*question, limits, goal);  // a proof may have met a worse state
    }
    if (!past) return limit;
    const int stand_in = question->asked()[past->asked].load;
    const auto& extreme = side(question->fault_case().extremes()[past->asked], goal);
    NeutralLimit lower;
    lower.load = past->load;
    lower.volts = volts(past->limit);
    lower.on = with_load(extreme->on, stand_in, past->load);
    const auto root =
        first_root(model_, start.fault().place, lower.on, past->load, past->limit, goal);
    if (!root) return limit;  // rounding: at the limit and not past it
    lower.ohms = ohms(*root);
    limit = std::move(lower);
    if (*root == 0) {
      limit->proven = certify_;  // no resistance is smaller
      return limit;
    }
    auto next = std::make_unique<PlaceQuestion>(
        house_, wiring_, model_, worst_, NeutralFault{start.fault().place, *root});
    next->fault_case().search(goal, question->fault_case());
    here = std::move(next);
    question = here.get();
  }
  return limit;
}

}  // namespace evenleg
