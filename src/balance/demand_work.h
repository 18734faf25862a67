// A calculation at work: the house, the rules of one edition, and the result that its steps fill.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "evenleg/balance/demand.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

inline constexpr int kMostName = 48;  // columns of a name in a line

struct DemandWork {
  const House& house;
  const Tables& tables;
  const SupplySystem& system;
  const DemandMethod& method;
  int edition = 0;
  DemandResult& result;

  [[nodiscard]] const DemandRule& rule(std::string_view name) const;
  // A rule of another file of the same code and edition: "standard", "neutral", "service".
  [[nodiscard]] const DemandRule& rule_of(std::string_view method, std::string_view name) const;
  [[nodiscard]] std::string source(const DemandRule& rule) const;

  void add(std::string text, const DemandRule& rule, double value);
  // `value` in place of the total so far.
  void replace(std::string text, const DemandRule& rule, double value);
  [[nodiscard]] double total() const;
};

// Items of these categories that are not left out, in their order.
[[nodiscard]] std::vector<DemandItem*> items_of(DemandResult& result,
                                                const std::vector<std::string>& categories);

// Of loads that exclude each other the largest stays (NEC 220.60); heating and cooling, which the
// methods choose between by themselves, are not looked at.
[[nodiscard]] bool is_heating_or_cooling(const std::string& category);
void leave_out_noncoincident(DemandResult& result);

// A unit of heating or cooling with what counts of it.
struct SeasonPart {
  DemandItem* item = nullptr;
  double percent = 100;
  double va = 0;
};
struct Season {
  std::vector<SeasonPart> parts;
  std::vector<DemandItem*> beaten;  // by a larger one that excludes it
  double va = 0;
};
// What heats, or cools, by the terms of the rule; of units that exclude each other the largest.
[[nodiscard]] Season season_of(DemandResult& result, const DemandRule& rule, bool cooling);
// The larger of heating and cooling, as steps; a note names what is left out.
void add_larger_season(DemandWork& work, const DemandRule& rule);

// "9000 VA"
[[nodiscard]] std::string va_text(const DemandWork& work, double va);

// Volt-amperes that stand for the floor area, small-appliance and laundry circuits by the rules of
// `method`, and as steps where asked for. Throws: Error(Request) without a floor area.
[[nodiscard]] double general_va(DemandWork& work, std::string_view method, bool steps);
// The floor area in square metres. Throws: Error(Request) where none is described.
[[nodiscard]] double floor_area_m2(const House& house);
// What an EV charger counts for.
[[nodiscard]] double ev_charger_va(const DemandWork& work, const DemandItem& item);

void standard_demand(DemandWork& work);
void optional_demand(DemandWork& work);  // and an existing dwelling
void recorded_demand(DemandWork& work);
void canadian_demand(DemandWork& work);
// NEC 220.61, after one of the first two.
void neutral_demand(DemandWork& work);
// The least and the next rating, the limits and what is left.
void compare_demand(DemandWork& work);

}  // namespace evenleg
