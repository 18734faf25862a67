#include "src/balance/demand_lines.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/percent.h"
#include "src/balance/demand_items.h"
#include "src/balance/demand_tables.h"

namespace evenleg {
namespace {

constexpr int kMostOfTwo = 30;  // columns, of two in a row
const std::vector<std::string> kCooking{"range", "wall oven", "cooktop"};

bool is_base(const DemandItem& item) {
  return item.category == "dryer" ||
         std::find(kCooking.begin(), kCooking.end(), item.category) != kCooking.end();
}

// What of an item's nameplate counts.
double part_of(DemandWork& work, const DemandItem& item) {
  const DemandRule& fastened = work.rule_of("standard", "fastened appliances");
  if (fastened.does_count(item.category) && item.va >= fastened.figure("least_va")) {
    return fastened_percent(work) / kPercent;
  }
  return 1;
}

// An item between one leg and the neutral only.
std::optional<std::size_t> only_leg(const DemandItem& item) {
  if (item.neutral_va < item.va) return std::nullopt;
  if (item.leg_amps[0] > 0 && item.leg_amps[1] > 0) return std::nullopt;
  return item.leg_amps[0] > 0 ? 0 : 1;
}

struct OneLeg {
  const DemandItem* item = nullptr;
  double amps = 0;
};

std::vector<DemandByLine> paired(const std::vector<OneLeg>& first,
                                 const std::vector<OneLeg>& second, const DemandByLine& blank) {
  std::vector<DemandByLine> rows;
  for (std::size_t i = 0; i < std::max(first.size(), second.size()); ++i) {
    DemandByLine row = blank;
    std::vector<std::string> names;
    for (std::size_t leg = 0; leg < 2; ++leg) {
      const std::vector<OneLeg>& list = leg == 0 ? first : second;
      if (i >= list.size()) continue;
      names.push_back(shortened(list[i].item->name, kMostOfTwo));
      row.legs[leg] = list[i].amps;
      row.neutral = std::max(row.neutral, list[i].amps);
    }
    row.text = listed(names);
    rows.push_back(std::move(row));
  }
  return rows;
}

DemandByLine largest_motor(DemandWork& work, DemandByLine row) {
  const DemandRule& motors = work.rule_of("standard", "motors");
  const double part = motors.figure("percent_of_largest") / kPercent;
  for (const DemandItem& item : work.result.items) {
    if (!is_counted_motor(item)) continue;
    for (std::size_t leg = 0; leg < 2; ++leg) {
      row.legs[leg] = std::max(row.legs[leg], item.leg_amps[leg] * part);
      row.neutral = std::max(row.neutral, item.neutral_amps[leg] * part);
    }
  }
  row.text = fmt::format("{} % of the largest motor", exact(motors.figure("percent_of_largest")));
  row.section = motors.section;
  row.source = work.source(motors);
  return row;
}

}  // namespace

bool is_counted_motor(const DemandItem& item) {
  static const std::vector<std::string> kMotors{"motor", "cooling", "heat pump", "pool or spa",
                                                "fastened appliance"};
  return item.counted && item.motor &&
         std::find(kMotors.begin(), kMotors.end(), item.category) != kMotors.end();
}

double fastened_percent(DemandWork& work) {
  const DemandRule& rule = work.rule_of("standard", "fastened appliances");
  const std::vector<DemandItem*> items = items_of(work.result, rule.counts);
  const auto large = std::count_if(items.begin(), items.end(), [&](const DemandItem* item) {
    return item->va >= rule.figure("least_va");
  });
  return static_cast<double>(large) >= rule.figure("at_least") ? rule.figure("percent") : kPercent;
}

BaseLoad base_load(DemandWork& work) {
  BaseLoad base;
  base.lighting =
      tiered(work.rule_of("standard", "lighting demand"), general_va(work, "standard", false));
  std::vector<double> cooking, dryers;
  for (const DemandItem* item : items_of(work.result, kCooking)) cooking.push_back(item->va);
  for (const DemandItem* item : items_of(work.result, {"dryer"})) dryers.push_back(item->va);
  base.cooking = cooking_demand(work.rule_of("standard", "cooking"), cooking).va;
  double percent = 0;
  base.dryers = dryer_demand(work.rule_of("standard", "dryer"), dryers, percent);
  return base;
}

double cooking_neutral_part(const DemandWork& work) {
  if (!work.system.split_phase) return 1;
  return work.rule_of("neutral", "cooking and dryers").figure("percent") / kPercent;
}

std::vector<DemandByLine> demand_by_line(DemandWork& work) {
  const DemandRule& rule = work.rule_of("neutral", "unbalance");
  const DemandByLine blank{"", rule.section, work.source(rule), {0, 0}, 0};
  const double volts = work.result.line_volts;
  const BaseLoad base = base_load(work);
  DemandByLine first = blank;
  first.text = "Lighting, cooking and dryers";
  const double both = (base.lighting + base.cooking + base.dryers) / volts;
  first.legs = {both, both};
  first.neutral =
      (base.lighting + cooking_neutral_part(work) * (base.cooking + base.dryers)) / volts;
  std::vector<DemandByLine> rows{first};
  std::vector<OneLeg> by_leg[2];
  for (const DemandItem& item : work.result.items) {
    if (!item.counted || is_base(item)) continue;
    const double part = part_of(work, item);
    if (item.category == "EV charger" && ev_charger_va(work, item) > item.va) {
      // What the least load is above the nameplate belongs to neither leg: half on each.
      DemandByLine row = blank;
      const double more = (ev_charger_va(work, item) - item.va) / volts;
      row.text = shortened(item.name, kMostOfTwo) + ", up to the least that counts";
      row.legs = {more, more};
      rows.push_back(std::move(row));
    }
    if (const auto leg = only_leg(item)) {
      by_leg[*leg].push_back({&item, item.leg_amps[*leg] * part});
      continue;
    }
    DemandByLine row = blank;
    row.text = shortened(item.name, 2 * kMostOfTwo);
    row.legs = {item.leg_amps[0] * part, item.leg_amps[1] * part};
    row.neutral = std::max(item.neutral_amps[0], item.neutral_amps[1]) * part;
    rows.push_back(std::move(row));
  }
  for (std::vector<OneLeg>& list : by_leg) {
    std::stable_sort(list.begin(), list.end(),
                     [](const OneLeg& a, const OneLeg& b) { return a.amps > b.amps; });
  }
  for (DemandByLine& row : paired(by_leg[0], by_leg[1], blank)) rows.push_back(std::move(row));
  const DemandByLine motor = largest_motor(work, blank);
  if (motor.legs[0] > 0 || motor.legs[1] > 0) rows.push_back(motor);
  return rows;
}

}  // namespace evenleg
