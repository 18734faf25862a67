// Canadian Electrical Code, rule 8-200: a single dwelling.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

void add_basic(DemandWork& work) {
  const DemandRule& rule = work.rule("basic load");
  constexpr double kNoise = 1e-9;  // an area of 90 m² given in square feet is not one more part
  const double area = floor_area_m2(work.house);
  const double over = std::max(0.0, area - rule.figure("first_m2"));
  const double parts = std::ceil(over / rule.figure("each_m2") - kNoise);
  work.add(fmt::format("Basic load, the first {} m² of {}", exact(rule.figure("first_m2")),
                       figure(area)),
           rule, rule.figure("first_watts"));
  if (parts <= 0) return;
  work.add(fmt::format("{} of {} m² or part of it, {} W each", exact(parts),
                       exact(rule.figure("each_m2")), exact(rule.figure("each_watts"))),
           rule, parts * rule.figure("each_watts"));
}

// A unit of heating or cooling with what it counts for; cooling and heating that exclude each other
// share a `noncoincident` text, and the larger stays.
struct Unit {
  DemandItem* item = nullptr;
  const DemandRule* rule = nullptr;
  double watts = 0;
};

std::vector<Unit> units_of(DemandWork& work) {
  const DemandRule& heating = work.rule("space heating");
  std::vector<Unit> units;
  const std::vector<DemandItem*> rooms = items_of(work.result, {"room heating"});
  double sum = 0;
  for (const DemandItem* item : rooms) sum += item->va;
  const double full = std::min(sum, heating.figure("full_watts"));
  const double counted = full + (sum - full) * heating.figure("percent_of_rest") / kPercent;
  for (DemandItem* item : rooms) units.push_back({item, &heating, item->va * counted / sum});
  for (DemandItem* item : items_of(work.result, {"central heating", "thermal storage heating",
                                                 "heat pump", "heat pump supplement"})) {
    units.push_back({item, &heating, item->va});
  }
  for (DemandItem* item : items_of(work.result, {"cooling"})) {
    units.push_back({item, &work.rule("cooling"), item->va});
  }
  return units;
}

void add_heating_and_cooling(DemandWork& work) {
  const std::vector<Unit> units = units_of(work);
  for (const Unit& unit : units) {
    double rest = 0;  // of those that exclude it, season by season
    const bool cools = unit.item->category == "cooling";
    double own = 0;
    for (const Unit& other : units) {
      if (!unit.item->noncoincident || other.item->noncoincident != unit.item->noncoincident) {
        continue;
      }
      ((other.item->category == "cooling") == cools ? own : rest) += other.watts;
    }
    if (rest > own || (rest == own && rest > 0 && cools)) {
      unit.item->left_out = "does not run with a larger one";
      continue;
    }
    work.add(fmt::format("{}, {} nameplate", shortened(unit.item->name, kMostName),
                         va_text(work, unit.item->va)),
             *unit.rule, unit.watts);
    unit.item->counted = true;
  }
}

// Whether there is a range.
bool add_range(DemandWork& work) {
  const std::vector<DemandItem*> items = items_of(work.result, {"range", "wall oven", "cooktop"});
  if (items.empty()) return false;
  const DemandRule& rule = work.rule("range");
  double rating = 0;
  for (DemandItem* item : items) {
    rating += item->va;
    item->counted = true;
  }
  const double over = std::max(0.0, rating - rule.figure("up_to_watts"));
  work.add(fmt::format("Range, {}{}", va_text(work, rating),
                       items.size() > 1 ? ", its cooking units together" : ""),
           rule, rule.figure("watts") + over * rule.figure("percent_of_rest") / kPercent);
  return true;
}

void add_in_full(DemandWork& work) {
  const DemandRule& full = work.rule("full loads");
  for (DemandItem* item : items_of(work.result, full.counts)) {
    work.add(shortened(item->name, kMostName), full, item->va);
    item->counted = true;
  }
  for (DemandItem* item : items_of(work.result, {"EV charger"})) {
    work.add(shortened(item->name, kMostName), work.rule("EV charger"), ev_charger_va(work, *item));
    item->counted = true;
  }
}

void add_others(DemandWork& work, bool range) {
  const DemandRule& rule = work.rule("other loads");
  double left = range ? 0 : rule.figure("without_range_full_watts");
  for (DemandItem* item : items_of(work.result, rule.counts)) {
    if (item->va <= rule.figure("above_watts")) {
      item->left_out = fmt::format("at most {} W", exact(rule.figure("above_watts")));
      continue;
    }
    const double full = std::min(left, item->va);
    left -= full;
    const double watts = full + (item->va - full) * rule.figure("percent") / kPercent;
    std::string text = shortened(item->name, kMostName);
    if (full > 0) text += fmt::format(", {} in full", va_text(work, full));
    if (full < item->va) {
      text += fmt::format(", {} at {} %", va_text(work, item->va - full),
                          exact(rule.figure("percent")));
    }
    work.add(std::move(text), rule, watts);
    item->counted = true;
  }
}

}  // namespace

void canadian_demand(DemandWork& work) {
  add_basic(work);
  add_heating_and_cooling(work);
  const bool range = add_range(work);
  add_in_full(work);
  add_others(work, range);
  work.result.load = work.total();
  work.result.notes.push_back("The neutral is not calculated: this rule says nothing of it.");
}

}  // namespace evenleg
