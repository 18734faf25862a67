// The dwelling's figures, and the appliances that several loads are parts of.
#include <fmt/format.h>

#include <map>

#include "src/house/judge.h"

namespace evenleg {
namespace {

void judge_figures(Judge& judge, const Dwelling& dwelling) {
  if (dwelling.floor_area_ft2 && dwelling.floor_area_m2) {
    judge.fault("dwelling", 0, "floor_area_m2", "both floor_area_ft2 and floor_area_m2 are given",
                "keep one of them");
  }
  if (dwelling.recorded_demand_amps && !dwelling.recorded_period) {
    judge.fault("dwelling", 0, "recorded_demand_amps",
                "a recorded demand says nothing without how long was recorded",
                "add recorded_period = \"1 year\" or \"30 days\"");
  }
  if (dwelling.recorded_period && !dwelling.recorded_demand_amps) {
    judge.fault("dwelling", 0, "recorded_period",
                "recorded_period is there without a recorded demand",
                "add recorded_demand_amps, or leave the period out");
  }
}

// An appliance is in one category, whichever of its parts says so.
void judge_appliances(Judge& judge) {
  std::map<std::string, std::string> demands;
  for (std::size_t l = 0; l < judge.house.loads.size(); ++l) {
    const Load& load = judge.house.loads[l];
    if (!load.appliance || !load.demand) continue;
    const auto& [appliance, demand] = *demands.emplace(*load.appliance, *load.demand).first;
    if (demand == *load.demand) continue;
    judge.fault("load", l, "demand",
                fmt::format("the appliance \"{}\" is \"{}\" here and \"{}\" before", appliance,
                            *load.demand, demand),
                "give its parts one category");
  }
}

}  // namespace

void judge_dwelling(Judge& judge) {
  if (judge.house.dwelling) judge_figures(judge, *judge.house.dwelling);
  judge_appliances(judge);
}

}  // namespace evenleg
