// NEC 220.82, the optional calculation of a dwelling unit, and 220.83, an existing dwelling.
#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "src/balance/demand_tables.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

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

// An EV charger runs for hours, and some authorities do not let the tiers reduce it.
void note_chargers(DemandWork& work, const DemandRule& tiers) {
  double va = 0;
  for (const DemandItem* item : items_of(work.result, {"EV charger"})) {
    va += ev_charger_va(work, *item);
  }
  if (va <= 0) return;
  const double more = tiered(tiers, work.total() - va) + va - tiered(tiers, work.total());
  work.result.notes.push_back(
      fmt::format("EV chargers, {} here, are reduced like any appliance; some authorities count "
                  "them in full, which would add {}, {} A.",
                  va_text(work, va), va_text(work, more), fixed(more / work.result.line_volts, 1)));
}

void note_small_service(DemandWork& work) {
  const double least = work.rule_of("service", "least service").figure("amps");
  const std::optional<Service>& service = work.house.service;
  if (!service || !service->breaker_a || *service->breaker_a >= least) return;
  work.result.notes.push_back(
      fmt::format("This calculation is for services of {} A or more, and this one is described "
                  "with {} A.",
                  exact(least), exact(*service->breaker_a)));
}

bool hvac_is_added(const DemandWork& work) {
  const auto added = [](const DemandItem& item) {
    return item.category_from == "added" && is_heating_or_cooling(item.category);
  };
  const auto& items = work.result.items;
  return work.house.dwelling->new_hvac || std::any_of(items.begin(), items.end(), added);
}

void add_tiers(DemandWork& work) {
  const DemandRule& tiers = work.rule("general load");
  note_chargers(work, tiers);
  work.replace("Of these, " + tiers_text(tiers, work.total()), tiers, tiered(tiers, work.total()));
}

}  // namespace

void optional_demand(DemandWork& work) {
  (void)general_va(work, work.method.name, true);
  add_appliances(work);
  const bool existing = work.method.name == "existing";
  const bool new_hvac = hvac_is_added(work);
  if (!existing) note_small_service(work);
  if (existing && !new_hvac) add_larger_season(work, work.rule("present heating or cooling"));
  add_tiers(work);
  if (!existing || new_hvac) add_larger_season(work, work.rule("heating or cooling"));
  work.result.load = work.total();
}

}  // namespace evenleg
