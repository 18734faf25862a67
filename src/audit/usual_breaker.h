// Internal to the wiring rules: the largest breaker that a conductor is usually given.
#pragma once

#include <optional>
#include <string>

#include "src/audit/findings.h"

namespace evenleg {

struct UsualBreaker {
  double amps = 0;
  std::string rule;  // "NEC 240.4(D)"
};

// NEC 240.4(D), or table 310.16 with the next standard rating; metric sizes their own table. Table
// 310.12 where the run feeds a whole dwelling from a single-phase supply; it is for no other.
[[nodiscard]] std::optional<UsualBreaker> usual_breaker(const Seen& seen,
                                                        const Conductor& conductor,
                                                        bool whole_dwelling);

// Whether table 310.12 may be used for the service conductors: two legs at most.
[[nodiscard]] bool is_single_phase(const Seen& seen);

// Whether the breaker is larger than usual for the run's conductor; false where either is unknown.
[[nodiscard]] bool is_beyond_conductor(const Seen& seen, const std::optional<double>& breaker_a,
                                       const Run& run, bool whole_dwelling);

}  // namespace evenleg
