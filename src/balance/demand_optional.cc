// NEC 220.82, the optional calculation of a dwelling unit, and 220.83, an existing dwelling.
#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "src/balance/demand_tables.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

constexpr int kMostName = 48;  // columns

void add_appliances(DemandWork& work) {
  const DemandRule& rule = work.rule("appliances");
  for (DemandItem* item : items_of(work.result, rule.counts)) {
    work.add(shortened(item->name, kMostName), rule, item->va);
    item->counted = true;
  }
  for (DemandItem* item : items_of(work.result, {"EV charger"})) {
    const double va = ev_charger_va(work, *item);
    std::string text = shortened(item->name, kMostName);
    if (va > item->va) text += ", the least that counts";
    work.add(std::move(text), work.rule("EV charger"), va);
    item->counted = true;
  }
}

void add_tiers(DemandWork& work) {
  const DemandRule& tiers = work.rule("general load");
  work.replace("Of these, " + tiers_text(tiers, work.total()), tiers,
               tiered(tiers, work.total()));
}

}  // namespace

void optional_demand(DemandWork& work) {
  (void)general_va(work, work.method.name, true);
  add_appliances(work);
  const bool existing = work.method.name == "existing";
  const bool new_hvac = work.house.dwelling->new_hvac;
  if (existing && !new_hvac) add_larger_season(work, work.rule("present heating or cooling"));
  add_tiers(work);
  if (!existing || new_hvac) add_larger_season(work, work.rule("heating or cooling"));
  work.result.load = work.total();
}

}  // namespace evenleg
