#include "evenleg/report/balance_json.h"

#include <nlohmann/json.hpp>

#include "evenleg/base/index.h"
#include "evenleg/house/wiring.h"
#include "evenleg/report/cautions.h"
#include "src/report/audit_json_parts.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 1;  // of this object; raised when a key changes its meaning

Json legs_json(const Wiring& wiring, const std::vector<double>& amps,
               const std::vector<int>& legs) {
  Json list = Json::array();
  for (int leg : legs) {
    list.push_back({{"leg", wiring.system.legs[at(leg)].name}, {"amps", number(amps[at(leg)])}});
  }
  return list;
}

std::vector<int> all_legs(const Wiring& wiring) {
  std::vector<int> legs;
  for (std::size_t leg = 0; leg < wiring.system.legs.size(); ++leg) {
    legs.push_back(static_cast<int>(leg));
  }
  return legs;
}

// The same figures for the service and for a panel.
Json loads_json(const Wiring& wiring, const std::vector<double>& amps,
                const std::vector<int>& legs) {
  std::vector<double> there;
  for (int leg : legs) there.push_back(amps[at(leg)]);
  const Imbalance uneven = imbalance(there);
  return {
      {"legs", legs_json(wiring, amps, legs)},
      {"spread_amps", number(spread(there))},
      {"imbalance_by_mean_percent", number(uneven.by_mean)},
      {"imbalance_by_largest_percent", number(uneven.by_largest)},
      {"imbalance_by_half_percent", there.size() == 2 ? number(uneven.by_half) : Json(nullptr)}};
}

Json scenarios_json(const House& house, const Wiring& wiring,
                    const std::vector<LegLoads>& scenarios) {
  Json list = Json::array();
  for (const LegLoads& row : scenarios) {
    Json entry{{"scenario", row.scenario}};
    entry.update(loads_json(wiring, row.service, all_legs(wiring)));
    Json panels = Json::array();
    for (std::size_t p = 0; p < house.panels.size(); ++p) {
      Json panel{{"panel", house.panels[p].name}};
      panel.update(loads_json(wiring, row.panels[p], wiring.panels[p].legs));
      panels.push_back(std::move(panel));
    }
    entry["panels"] = std::move(panels);
    list.push_back(std::move(entry));
  }
  return list;
}

// One pole as one name, several as a list joined by commas: "L1,L2".
std::string joined(const std::vector<std::string>& legs) {
  std::string text;
  for (const std::string& leg : legs) text += (text.empty() ? "" : ",") + leg;
  return text;
}

Json moved_json(const House& house, const BalancePlan& plan) {
  Json list = Json::array();
  for (const CircuitMove& move : plan.moved) {
    list.push_back({{"circuit", house.circuits[at(move.circuit)].name},
                    {"panel", house.panels[at(move.panel)].name},
                    {"from_space", move.from_space},
                    {"to_space", move.to_space},
                    {"from_leg", joined(move.from_legs)},
                    {"to_leg", joined(move.to_legs)},
                    {"counted", move.counts()},
                    {"names_legs", move.names_legs}});
  }
  return list;
}

Json figures_json(const House& house, const std::optional<NeutralFigures>& figures) {
  if (!figures) return nullptr;
  Json worst = nullptr;
  if (figures->worst) {
    worst = {{"load", house.loads[at(figures->worst->load)].name},
             {"place", figures->worst_place},
             {"volts", number(figures->worst->volts.si())},
             {"over", number(figures->worst->over)},
             {"severity", figures->worst->severity}};
  }
  return {{"neutral_amps", number(figures->as_found)},
          {"neutral_highest_amps", value_of(figures->highest)},
          {"neutral_highest_bound", bound_of(figures->highest)},
          {"neutral_highest_proven", is_proven(figures->highest)},
          {"loads", figures->loads},
          {"loads_past", figures->past},
          {"loads_past_proven", figures->proven},
          {"worst", worst}};
}

Json plans_json(const BalanceReport& report, const Wiring& wiring) {
  Json list = Json::array();
  for (std::size_t p = 0; p < report.balance.plans.size(); ++p) {
    const BalancePlan& plan = report.balance.plans[p];
    const auto figures =
        p < report.with_plan.size() ? report.with_plan[p] : std::optional<NeutralFigures>{};
    list.push_back({{"moves", plan.moves},
                    {"spread_amps", number(plan.spread_amps)},
                    {"proven", plan.proven},
                    {"moved", moved_json(report.house, plan)},
                    {"scenarios", scenarios_json(report.house, wiring, plan.scenarios)},
                    {"audit", figures_json(report.house, figures)}});
  }
  return list;
}

Json shed_json(const House& house, const Wiring& wiring, const LegLimit& row) {
  Json list = Json::array();
  for (const Shed& shed : row.shed) {
    list.push_back(
        {{"load", shed.load >= 0 ? Json(house.loads[at(shed.load)].name) : Json(nullptr)},
         {"circuit",
          shed.circuit >= 0 ? Json(house.circuits[at(shed.circuit)].name) : Json(nullptr)},
         {"leg", wiring.system.legs[at(shed.leg)].name},
         {"amps", number(shed.amps)},
         {"always_on", shed.always_on}});
  }
  return list;
}

Json limits_json(const BalanceReport& report, const Wiring& wiring) {
  Json list = Json::array();
  for (const LegLimit& row : report.limits) {
    list.push_back({{"panel", report.house.panels[at(row.panel)].name},
                    {"scenario", row.scenario},
                    {"limit_amps", number(row.limit_amps)},
                    {"leg", wiring.system.legs[at(row.leg)].name},
                    {"amps", number(row.amps[at(row.leg)])},
                    {"over_amps", number(row.over_amps)},
                    {"shed", shed_json(report.house, wiring, row)},
                    {"legs_left", legs_json(wiring, row.left, wiring.panels[at(row.panel)].legs)},
                    {"fits", row.fits}});
  }
  return list;
}

}  // namespace

std::string balance_json(const BalanceReport& report) {
  const House& house = report.house;
  const Wiring wiring = wire(house, *find_system(vocabulary(report.tables), house.supply.system));
  Json fixed = Json::array();
  for (const FixedCircuit& one : report.balance.fixed) {
    fixed.push_back({{"circuit", house.circuits[at(one.circuit)].name}, {"why", one.why}});
  }
  Json measured = Json::array();
  for (int c : report.balance.measured) {
    measured.push_back({{"circuit", house.circuits[at(c)].name},
                        {"amps", number(house.circuits[at(c)].measured_amps)}});
  }
  return text_of({{"format", kFormat},
                  {"house", name_of(house)},
                  {"scenarios", scenarios_json(house, wiring, report.balance.scenarios)},
                  {"spread_amps", number(report.balance.spread_amps)},
                  {"plans", plans_json(report, wiring)},
                  {"complete", report.balance.complete},
                  {"searched_moves", report.balance.searched_moves},
                  {"keep_spares", report.keep_spares},
                  {"measured", measured},
                  {"fixed", fixed},
                  {"limits", limits_json(report, wiring)},
                  {"audit", figures_json(house, report.as_it_is)},
                  {"caution", standing_caution()}});
}

}  // namespace evenleg
