// A dwelling of a published load calculation, written as a house description: nameplates, floor
// area, and the leg that each load is on.
#pragma once

#include <string_view>

#include "evenleg/balance/demand.h"

namespace evenleg {

// Circuits "A" and "B" on L1 and L2, and "AB" between both, of a 120/240 V service.
inline constexpr std::string_view kDwelling = R"(
format = 1
house = {name = "a published example"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 4}]
circuit = [{name = "A", legs = ["L1"]}, {name = "B", legs = ["L2"]},
           {name = "AB", legs = ["L1", "L2"], poles = 2}]
)";

class DescribedDemand {
 public:
  // Throws: Error when the two parts together are no valid description.
  explicit DescribedDemand(std::string_view own, std::string_view shared = kDwelling);

  [[nodiscard]] DemandResult by(const DemandOptions& options) const;
  [[nodiscard]] DemandResult by(std::string_view method, int edition) const;
  [[nodiscard]] const Tables& tables() const { return tables_; }

 private:
  Tables tables_;
  House house_;
};

// The steps of that rule: the value of the last of them, the running total after it, and the sum of
// all their values. Not a number when there is none.
[[nodiscard]] double step_value(const DemandResult& result, std::string_view rule);
[[nodiscard]] double step_total(const DemandResult& result, std::string_view rule);
[[nodiscard]] double step_sum(const DemandResult& result, std::string_view rule);
// The value of the step whose text starts so.
[[nodiscard]] double step_called(const std::vector<DemandStep>& steps, std::string_view start);
// The row by line whose text starts so; all zero when there is none.
[[nodiscard]] DemandByLine line_called(const DemandResult& result, std::string_view start);

}  // namespace evenleg
