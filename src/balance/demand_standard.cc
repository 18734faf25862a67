// NEC, the standard calculation: article 220 part III. Lighting, cooking and dryers are counted in
// volt-amperes; every other load also on the legs that it is on, as in Annex D1(b).
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "src/balance/demand_lines.h"
#include "src/balance/demand_tables.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

std::vector<double> vas_of(const std::vector<DemandItem*>& items) {
  std::vector<double> vas;
  for (const DemandItem* item : items) vas.push_back(item->va);
  return vas;
}

void add_cooking(DemandWork& work) {
  const std::vector<DemandItem*> items = items_of(work.result, {"range", "wall oven", "cooktop"});
  if (items.empty()) return;
  const DemandRule& rule = work.rule("cooking");
  const CookingDemand found = cooking_demand(rule, vas_of(items));
  work.add("Cooking, " + found.text, rule, found.va);
  for (DemandItem* item : items) item->counted = true;
}

void add_dryers(DemandWork& work) {
  const std::vector<DemandItem*> items = items_of(work.result, {"dryer"});
  if (items.empty()) return;
  const DemandRule& rule = work.rule("dryer");
  double percent = 0;
  const double va = dryer_demand(rule, vas_of(items), percent);
  work.add(fmt::format("{}, each at least {} VA, at {} %", counted(items.size(), "dryer"),
                       exact(rule.figure("least_va")), exact(percent)),
           rule, va);
  for (DemandItem* item : items) item->counted = true;
}

void add_fastened(DemandWork& work) {
  const DemandRule& rule = work.rule("fastened appliances");
  const double percent = fastened_percent(work);
  for (DemandItem* item : items_of(work.result, rule.counts)) {
    const bool reduced = percent < 100 && item->va >= rule.figure("least_va");
    std::string text = shortened(item->name, kMostName);
    if (reduced) text += fmt::format(", {} at {} %", va_text(work, item->va), exact(percent));
    work.add(std::move(text), rule, item->va * (reduced ? percent / 100 : 1));
    item->counted = true;
  }
}

void add_chargers_and_motors(DemandWork& work) {
  for (DemandItem* item : items_of(work.result, {"EV charger"})) {
    const double va = ev_charger_va(work, *item);
    std::string text = shortened(item->name, kMostName);
    if (va > item->va) text += ", the least that counts";
    work.add(std::move(text), work.rule("EV charger"), va);
    item->counted = true;
  }
  const DemandRule& motors = work.rule("motors");
  for (DemandItem* item : items_of(work.result, motors.counts)) {
    work.add(shortened(item->name, kMostName), motors, item->va);
    item->counted = true;
  }
}

void add_largest_motor(DemandWork& work) {
  const DemandRule& motors = work.rule("motors");
  const DemandItem* largest = nullptr;
  for (const DemandItem& item : work.result.items) {
    if (!is_counted_motor(item)) continue;
    if (largest == nullptr || item.va > largest->va) largest = &item;
  }
  if (largest == nullptr) return;
  const double percent = motors.figure("percent_of_largest");
  work.add(fmt::format("{} % of the largest motor, {}", exact(percent),
                       shortened(largest->name, kMostName)),
           motors, largest->va * percent / 100);
}

}  // namespace

void standard_demand(DemandWork& work) {
  const double general = general_va(work, work.method.name, true);
  const DemandRule& tiers = work.rule("lighting demand");
  work.replace("Of these, " + tiers_text(tiers, general), tiers, tiered(tiers, general));
  add_cooking(work);
  add_dryers(work);
  add_fastened(work);
  add_chargers_and_motors(work);
  add_larger_season(work, work.rule("heating or cooling"));
  add_largest_motor(work);
  work.result.load = work.total();
}

}  // namespace evenleg
