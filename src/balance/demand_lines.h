// What a standard calculation and the neutral have in common: which motors count, how far the four
// appliances are reduced, and the loads leg by leg as in NEC Annex D1(b).
#pragma once

#include <vector>

#include "src/balance/demand_work.h"

namespace evenleg {

// Counted, and a motor for its 25 % (NEC 220.50, 430.24); dryers and cooking are not.
[[nodiscard]] bool is_counted_motor(const DemandItem& item);

// 75 where four or more fastened appliances count (NEC 220.53), else 100.
[[nodiscard]] double fastened_percent(DemandWork& work);

// The volt-amperes of lighting after its demand factors, and of the lines' and the neutral's part
// of cooking and dryers.
struct BaseLoad {
  double lighting = 0;
  double cooking = 0;
  double dryers = 0;
};
[[nodiscard]] BaseLoad base_load(DemandWork& work);
// The part of cooking and dryers that the neutral is counted for: 0.7, or 1 on two legs of a wye.
[[nodiscard]] double cooking_neutral_part(const DemandWork& work);

// Rows of amperes: the base, each load that is counted, 25 % of the largest motor on each
// conductor. Loads from one leg to the neutral are paired with such loads of the other leg, the
// larger with the larger, and the neutral takes the larger of each pair.
[[nodiscard]] std::vector<DemandByLine> demand_by_line(DemandWork& work);

}  // namespace evenleg
