#include "src/balance/demand_work.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <map>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "evenleg/base/quoted.h"

namespace evenleg {
namespace {

constexpr double kSquareMetresPerSquareFoot = 0.09290304;  // exact: 0.3048 squared
constexpr std::string_view kExcluded = "does not run with a larger one";

// Of the parts with one text the largest.
void keep_largest(Season& season) {
  const std::vector<SeasonPart>& parts = season.parts;
  const auto beaten = [&](const SeasonPart& part) {
    if (!part.item->noncoincident) return false;
    return std::any_of(parts.begin(), parts.end(), [&](const SeasonPart& other) {
      if (other.item == part.item || other.item->noncoincident != part.item->noncoincident) {
        return false;
      }
      return other.va > part.va || (other.va == part.va && other.item < part.item);
    });
  };
  std::vector<SeasonPart> kept;
  for (const SeasonPart& part : parts) {
    if (!beaten(part)) {
      kept.push_back(part);
    } else {
      season.beaten.push_back(part.item);
    }
  }
  season.parts = std::move(kept);
}

[[noreturn]] void refuse_area(const std::string& what) {
  throw Error(ErrorKind::Request,
              {"[dwelling]", what,
               "add floor_area_ft2 or floor_area_m2 (`evenleg set HOUSE dwelling "
               "--floor_area_ft2 1500`)"});
}

}  // namespace

const DemandRule& DemandWork::rule(std::string_view name) const {
  return demand_rule(method, name, edition);
}

const DemandRule& DemandWork::rule_of(std::string_view other, std::string_view name) const {
  const DemandMethod* found = find_demand_method(tables, other);
  assert(found != nullptr);
  return demand_rule(*found, name, edition);
}

std::string DemandWork::source(const DemandRule& rule) const {
  return fmt::format("{}, {}: {}; read: {}", method.code, edition, rule.section, rule.read);
}

void DemandWork::add(std::string text, const DemandRule& rule, double value) {
  result.steps.push_back(
      {std::move(text), rule.name, rule.section, source(rule), value, total() + value, false});
}

void DemandWork::replace(std::string text, const DemandRule& rule, double value) {
  result.steps.push_back(
      {std::move(text), rule.name, rule.section, source(rule), value, value, true});
}

double DemandWork::total() const { return result.steps.empty() ? 0 : result.steps.back().total; }

std::vector<DemandItem*> items_of(DemandResult& result,
                                  const std::vector<std::string>& categories) {
  std::vector<DemandItem*> items;
  for (DemandItem& item : result.items) {
    const bool wanted =
        std::find(categories.begin(), categories.end(), item.category) != categories.end();
    if (wanted && item.left_out.empty()) items.push_back(&item);
  }
  return items;
}

bool is_heating_or_cooling(const std::string& category) {
  return category.ends_with("heating") || category == "cooling" ||
         category.starts_with("heat pump");
}

void leave_out_noncoincident(DemandResult& result) {
  std::map<std::string, DemandItem*> largest;
  for (DemandItem& item : result.items) {
    const bool counts = item.category != "general" && item.category != "not counted" &&
                        !is_heating_or_cooling(item.category);
    if (!counts || !item.noncoincident) continue;
    DemandItem*& kept = largest.emplace(*item.noncoincident, &item).first->second;
    if (kept == &item) continue;
    DemandItem* out = item.va > kept->va ? kept : &item;
    if (item.va > kept->va) kept = &item;
    out->left_out = kExcluded;
  }
}

Season season_of(DemandResult& result, const DemandRule& rule, bool cooling) {
  Season season;
  for (const DemandTerm& term : rule.terms) {
    if (term.cooling != cooling) continue;
    const std::vector<DemandItem*> items = items_of(result, {term.category});
    const auto count = static_cast<int>(items.size());
    if (term.fewer_than && count >= *term.fewer_than) continue;
    if (term.at_least && count < *term.at_least) continue;
    for (DemandItem* item : items) {
      season.parts.push_back({item, term.percent, item->va * term.percent / kPercent});
    }
  }
  keep_largest(season);
  for (const SeasonPart& part : season.parts) season.va += part.va;
  return season;
}

void add_larger_season(DemandWork& work, const DemandRule& rule) {
  Season heating = season_of(work.result, rule, false);
  Season cooling = season_of(work.result, rule, true);
  const bool heats = heating.va >= cooling.va;
  Season& larger = heats ? heating : cooling;
  const Season& smaller = heats ? cooling : heating;
  for (const SeasonPart& part : larger.parts) {
    part.item->counted = true;
    work.add(fmt::format("{}, {} at {} %", shortened(part.item->name, 40),  // columns
                         va_text(work, part.item->va), exact(part.percent)),
             rule, part.va);
  }
  for (const SeasonPart& part : smaller.parts) {
    if (!part.item->counted && part.item->left_out.empty()) {
      part.item->left_out = heats ? "heating is larger" : "cooling is larger";
    }
  }
  for (DemandItem* item : larger.beaten) item->left_out = kExcluded;
  for (DemandItem* item : smaller.beaten) {
    if (!item->counted) item->left_out = kExcluded;
  }
  if (!smaller.parts.empty()) {
    work.result.notes.push_back(
        fmt::format("Of heating and cooling the larger counts: {} by this rule is {}, {} is {}.",
                    heats ? "heating" : "cooling", va_text(work, larger.va),
                    heats ? "cooling" : "heating", va_text(work, smaller.va)));
  }
}

std::string va_text(const DemandWork& work, double va) {
  return fixed(va, 0) + " " + work.result.unit;
}

double floor_area_m2(const House& house) {
  const std::optional<Dwelling>& dwelling = house.dwelling;
  if (dwelling && dwelling->floor_area_m2) return *dwelling->floor_area_m2;
  if (dwelling && dwelling->floor_area_ft2) {
    return *dwelling->floor_area_ft2 * kSquareMetresPerSquareFoot;
  }
  refuse_area("the method goes by the floor area, and none is described");
}

double general_va(DemandWork& work, std::string_view method, bool steps) {
  const DemandRule& lighting = work.rule_of(method, "general lighting");
  const DemandRule& small = work.rule_of(method, "small appliance");
  const DemandRule& laundry = work.rule_of(method, "laundry");
  (void)floor_area_m2(work.house);  // there is one
  const Dwelling& dwelling = *work.house.dwelling;
  const bool feet = dwelling.floor_area_ft2.has_value();
  const double area = feet ? *dwelling.floor_area_ft2 : *dwelling.floor_area_m2;
  const double each = lighting.figure(feet ? "va_per_ft2" : "va_per_m2");
  const double smalls =
      std::max<double>(dwelling.small_appliance_circuits.value_or(0), small.figure("least"));
  const double laundries =
      std::max<double>(dwelling.laundry_circuits.value_or(0), laundry.figure("least"));
  const double small_va = smalls * small.figure("va_each");
  const double laundry_va = laundries * laundry.figure("va_each");
  if (steps) {
    work.add(fmt::format("General lighting and receptacles, {} {} at {} VA", exact(area),
                         feet ? "ft²" : "m²", exact(each)),
             lighting, area * each);
    work.add(fmt::format("Small-appliance circuits, {} of {} VA", exact(smalls),
                         exact(small.figure("va_each"))),
             small, small_va);
    work.add(fmt::format("Laundry circuits, {} of {} VA", exact(laundries),
                         exact(laundry.figure("va_each"))),
             laundry, laundry_va);
  }
  return area * each + small_va + laundry_va;
}

double ev_charger_va(const DemandWork& work, const DemandItem& item) {
  return std::max(item.va, work.rule("EV charger").figure("least_va"));
}

}  // namespace evenleg
