// Sums of resistances along the way to a place: what can be told of a section.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "src/diagnose/reading_model.h"

namespace evenleg {

// One conductor, or two in series, from a point upstream (-1: the source) to `to`.
struct Combination {
  int from = -1;
  int to = 0;
  std::vector<int> wires;  // of `to`
  Eigen::VectorXd c;       // cᵀ parameters: ohms
  Complex expected{};      // described runs and transformer
};

// For each stop on the way up from wire to wire: the nearest read point, each further one, the
// first panel, the source. Nearest first.
[[nodiscard]] std::vector<Combination> ways_up(const ReadPoints& points, const ReadingModel& model,
                                               int point, const std::vector<int>& wires);

// "L1", "N", "L1 and N".
[[nodiscard]] std::string conductor_name(const ReadPoint& point, const std::vector<int>& wires,
                                         const SupplySystem& system);

}  // namespace evenleg
