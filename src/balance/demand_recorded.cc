// NEC 220.87, an existing dwelling from the demand that was recorded, and what is added to it.
#include <fmt/format.h>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "src/balance/demand_work.h"

namespace evenleg {

void recorded_demand(DemandWork& work) {
  const std::optional<Dwelling>& dwelling = work.house.dwelling;
  if (!dwelling || !dwelling->recorded_demand_amps) {
    throw Error(ErrorKind::Request,
                {"[dwelling]", "the method goes by the recorded demand, and none is described",
                 "add recorded_demand_amps and recorded_period"});
  }
  const DemandRule& rule = work.rule("recorded demand");
  const double amps = *dwelling->recorded_demand_amps;
  const double percent = rule.figure("percent");
  work.add(fmt::format("Highest demand of {}, {} A at {} V, at {} %",
                       dwelling->recorded_period.value_or("the record"), exact(amps),
                       exact(work.result.line_volts), exact(percent)),
           rule, amps * work.result.line_volts * percent / 100);
  // The loads described were there when it was recorded; only the added ones come on top.
  for (DemandItem& item : work.result.items) {
    if (item.category_from != "added") {
      item.left_out = "in the recorded demand";
      continue;
    }
    const bool ev = item.category == "EV charger";
    work.add(shortened(item.name, 48) + ", added",  // columns
             ev ? work.rule("EV charger") : rule, ev ? ev_charger_va(work, item) : item.va);
    item.counted = true;
  }
  work.result.load = work.total();
  work.result.notes.push_back(
      "The record must hold the heating or cooling of the year, and no generation or storage may "
      "have lowered it while it was taken. The neutral is not calculated by this method.");
}

}  // namespace evenleg
