#include "evenleg/report/demand_json.h"

#include <nlohmann/json.hpp>

#include "evenleg/report/demand_text.h"
#include "src/report/audit_json_parts.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 1;  // of this object; raised when a key changes its meaning

Json steps_json(const std::vector<DemandStep>& steps) {
  Json all = Json::array();
  for (const DemandStep& step : steps) {
    all.push_back({{"text", step.text},
                   {"rule", step.rule},
                   {"section", step.section},
                   {"value", number(step.value)},
                   {"total", number(step.total)},
                   {"replaces_total", step.replaces},
                   {"source", step.source}});
  }
  return all;
}

Json legs_json(const DemandResult& result, const std::vector<double>& amps) {
  Json legs = Json::array();
  for (std::size_t leg = 0; leg < result.legs.size(); ++leg) {
    legs.push_back({{"leg", result.legs[leg]}, {"amps", number(amps[leg])}});
  }
  return legs;
}

Json by_line_json(const DemandResult& result) {
  Json rows = Json::array();
  for (const DemandByLine& row : result.by_line) {
    rows.push_back({{"text", row.text},
                    {"section", row.section},
                    {"legs", legs_json(result, row.legs)},
                    {"neutral_amps", number(row.neutral)},
                    {"source", row.source}});
  }
  return rows;
}

Json loads_json(const DemandResult& result) {
  Json loads = Json::array();
  for (const DemandItem& item : result.items) {
    loads.push_back({{"load", item.name},
                     {"demand", item.category},
                     {"demand_from", item.category_from},
                     {"va", number(item.va)},
                     {"neutral_va", number(item.neutral_va)},
                     {"legs", legs_json(result, item.leg_amps)},
                     {"counted", item.counted},
                     {"left_out", item.left_out.empty() ? Json(nullptr) : Json(item.left_out)}});
  }
  return loads;
}

Json limits_json(const std::vector<DemandLimit>& limits, std::string_view of, Json all) {
  for (const DemandLimit& limit : limits) {
    all.push_back({{"of", of},
                   {"what", limit.what},
                   {"amps", number(limit.amps)},
                   {"source", limit.source.empty() ? Json(nullptr) : Json(limit.source)}});
  }
  return all;
}

Json whole(const std::optional<double>& amps) {
  return amps ? number(whole_amps(*amps)) : Json(nullptr);
}

}  // namespace

std::string demand_json(const House& house, const DemandResult& result) {
  const Json limits = limits_json(result.neutral_limits, "neutral",
                                  limits_json(result.limits, "service", Json::array()));
  const Json neutral{{"va", number(result.neutral_va)},
                     {"amps", number(result.neutral_amps)},
                     {"whole_amps", whole(result.neutral_amps)},
                     {"by_leg_amps", number(result.neutral_by_leg_amps)},
                     {"steps", steps_json(result.neutral_steps)}};
  const Json object{{"format", kFormat},
                    {"house", name_of(house)},
                    {"supply", house.supply.system},
                    {"method", result.method},
                    {"code", result.code},
                    {"edition", result.edition},
                    {"edition_asked_for", !result.default_edition},
                    {"unit", result.unit},
                    {"volts", number(result.line_volts)},
                    {"load", number(result.load)},
                    {"amps", number(result.amps)},
                    {"compared_amps", number(result.compared_amps)},
                    {"steps", steps_json(result.steps)},
                    {"by_line", by_line_json(result)},
                    {"neutral", neutral},
                    {"least_service_amps", number(result.least_service_amps)},
                    {"next_rating_amps", number(result.next_rating_amps)},
                    {"limits", limits},
                    {"spare_amps", number(result.spare_amps)},
                    {"loads", loads_json(result)},
                    {"notes", result.notes},
                    {"caution", demand_caution()}};
  return text_of(object);
}

}  // namespace evenleg
