// The legs side by side: amperes by scenario, and by hour of day from a recorder's log.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evenleg/balance/leg_loads.h"
#include "evenleg/diagnose/log.h"
#include "evenleg/drawing/drawing.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

// `after`: the same scenarios once circuits have moved; empty: none. `limit`: of a leg, amperes.
[[nodiscard]] Drawing draw_legs_by_scenario(const SupplySystem& system,
                                            const std::vector<LegLoads>& before,
                                            const std::vector<LegLoads>& after,
                                            const std::optional<double>& limit);

// Means by hour of day: amperes where the log has them, else volts. Absent for a log without a
// clock.
[[nodiscard]] std::optional<Drawing> draw_legs_by_hour(const SupplySystem& system,
                                                       const LogResult& log);

}  // namespace evenleg
