// Which readings would tell what the present ones do not.
#pragma once

#include <string>
#include <vector>

#include "src/diagnose/combinations.h"
#include "src/diagnose/fit.h"

namespace evenleg {

// The fewest further readings, in words, with which every one of `wanted` is told: at the place
// itself and at the first panel, with nothing on, a known load on each leg, or one from leg to leg.
// Empty when no three of them would do. `felt`: by the readings that there are.
[[nodiscard]] std::vector<std::string> fewest_readings(const ReadPoints& points,
                                                       const ReadingModel& model, const Felt& felt,
                                                       const Eigen::VectorXd& scale, int place,
                                                       const std::vector<Combination>& wanted,
                                                       const SupplySystem& system);

}  // namespace evenleg
