// How many ohms a joint may add before the first load leaves its limits.
//
// Method and what is proven: evenleg/audit/neutral.h. From a resistance at which some load is past
// its limit, the state that takes it furthest past gives a smaller one by the root of
//   |V0 + k R Vopen| = L |1 + k R|,   k from a third solution of the same state,
// at which the loads that were nearest to their limits are asked again, until none is past its
// limit; then all are, and proven. Resistances only fall, and each state gives a load one first
// root, so it ends.
#pragma once

#include <optional>
#include <vector>

#include "evenleg/audit/audit.h"
#include "evenleg/network/load_law.h"
#include "src/audit/place_question.h"

namespace evenleg {

// By load: the volts that it may not pass, none where it has no such limit.
using LoadLimits = std::vector<std::optional<double>>;
// What each load withstands.
[[nodiscard]] LoadLimits high_limits(const House& house, const Model& model, const Tables& tables);
// The volts below which it drops out or stalls, by its law.
[[nodiscard]] LoadLimits low_limits(const std::vector<LoadBehaviour>& behaviours);

// The limits of the loads that a question asks about, none for others.
[[nodiscard]] LoadLimits of_those_asked(const PlaceQuestion& question, const LoadLimits& limits);

// The highest volts of one of the asked over its tightest limit, as far as searched; -1 without
// either.
[[nodiscard]] double over_limit(const PlaceQuestion& question, std::size_t asked,
                                const LoadLimits& limits);

// The smallest ohms at which |V| of a load reaches `limit` from the side where it is at R = 0; 0
// where it is past it there; nothing where it never does. `on`: every load of the house.
[[nodiscard]] std::optional<double> first_root(const Model& model, const Place& place,
                                               const std::vector<int>& on, int load, double limit,
                                               Goal goal);

// Certifies that no credible state takes a load more than 0.01 V past its limit. Requires: that side
// is searched.
[[nodiscard]] bool none_past(PlaceQuestion& question, const LoadLimits& limits, Goal goal);

// Whether some load is past its limit, as far as searched.
[[nodiscard]] bool any_past(const PlaceQuestion& question, const LoadLimits& limits, Goal goal);

class LimitFinder {
 public:
  // The references outlive it. `sound`: searched, no ohms added, all that `from` is asked about
  // among its loads. `certify`: prove that no state is past a limit where it ends.
  LimitFinder(const Model& model, const PlaceQuestion& sound, bool certify)
      : model_(model), sound_(sound), certify_(certify) {}

  // `start`: searched; nothing where no load is past its limit there.
  [[nodiscard]] std::optional<NeutralLimit> from(const PlaceQuestion& start,
                                                 const LoadLimits& limits, Goal goal) const;

  // The limits without those that are passed with the neutral sound already; nothing where none is.
  [[nodiscard]] std::optional<LoadLimits> kept_when_sound(const LoadLimits& limits,
                                                          Goal goal) const;
  // The asked that are nearest to their limits at `start` or when sound: those that can be first.
  [[nodiscard]] std::vector<std::size_t> likely_first(const PlaceQuestion& start,
                                                      const LoadLimits& limits, Goal goal) const;

 private:
  const Model& model_;
  const PlaceQuestion& sound_;
  bool certify_;
};

}  // namespace evenleg
