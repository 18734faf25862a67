#include "evenleg/report/audit_json.h"

#include <nlohmann/json.hpp>

#include "evenleg/base/index.h"
#include "evenleg/report/audit_words.h"
#include "evenleg/report/behaviour_json.h"
#include "evenleg/report/cautions.h"
#include "src/report/audit_json_parts.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 1;  // of this object; raised when a key changes its meaning

Json supply_json(const House& house, const Tables& tables) {
  Json legs = Json::array();
  for (const SupplySystem& system : tables.systems) {
    if (system.name != house.supply.system) continue;
    for (const Leg& leg : system.legs) legs.push_back(leg.name);
  }
  return {{"system", house.supply.system}, {"legs", legs}};
}

Json neutral_row_json(const House& house, const NeutralRow& row) {
  Json out{{"place", row.place},
           {"amps", number(row.amps.si())},
           {"highest_amps", value_of(row.highest)},
           {"highest_on", on_of(house, row.highest)},
           {"proven", is_proven(row.highest)},
           {"rated_amps", number(row.rated_amps)},
           {"highest_bound", bound_of(row.highest)},
           {"kind", name_of(row.kind)}};
  add_limit(house, row.limit, out);
  if (row.next_limit) add_limit(house, row.next_limit, out, "next_");
  if (row.kind == PlaceKind::Service) {
    out["earth_return_amps"] = number(row.earth_return_amps.value_or(amps(0)).si());
  }
  return out;
}

Json as_found_json(const House& house, const Audit& audit) {
  Json legs = Json::array();
  for (const LegRow& row : audit.legs) {
    legs.push_back(
        {{"leg", row.leg}, {"amps", number(row.amps.si())}, {"volts", number(row.volts.si())}});
  }
  Json neutrals = Json::array();
  for (const NeutralRow& row : audit.neutrals) neutrals.push_back(neutral_row_json(house, row));
  Json loads = Json::array();
  for (const LoadRow& row : audit.loads) {
    const Load& load = house.loads[at(row.load)];
    loads.push_back({{"load", load.name},
                     {"outlet", load.at},
                     {"volts", number(row.volts.si())},
                     {"amps", number(row.amps.si())}});
  }
  Json as_found{{"legs", legs}, {"neutrals", neutrals}, {"loads", loads}};
  add_harmonics(audit, as_found);
  return as_found;
}

Json open_neutral_json(const House& house, const OpenNeutral& open) {
  Json loads = Json::array();
  for (const LoadExtremes& row : open.loads) loads.push_back(load_extremes_json(house, row));
  Json outlets = Json::array();
  for (const OutletExtremes& row : open.outlets) {
    outlets.push_back(outlet_extremes_json(house, row));
  }
  Json out{{"place", open.place.name},
           {"neutral_shift_volts", number(open.neutral_shift.si())},
           {"protected_by", open.protected_by ? Json(*open.protected_by) : Json(nullptr)},
           {"loads", loads},
           {"outlets", outlets},
           {"kind", name_of(open.place.kind)},
           {"behaviour", behaviour_json(house, open.behaviour)},
           {"behaviour_left_out", open.behaviour_left_out}};
  add_limit(house, open.limit, out);
  if (open.next_limit) add_limit(house, open.next_limit, out, "next_");
  return out;
}

Json rank_json(const House& house, const Audit& audit, const RankRow& row, std::size_t rank) {
  const Load& load = house.loads[at(row.load)];
  const OpenNeutral& open = audit.open_neutral[static_cast<std::size_t>(row.place)];
  const LoadExtremes* extremes = extremes_of(open, row.load);
  return {{"rank", rank},
          {"outlet", load.at},
          {"load", load.name},
          {"place", open.place.name},
          {"volts", number(row.volts.si())},
          {"over", number(row.over)},
          {"severity", row.severity},
          {"on", load_names(house, row.on)},
          {"withstands_volts", number(row.withstands.si())},
          {"protected_by", open.protected_by ? Json(*open.protected_by) : Json(nullptr)},
          {"proven", extremes != nullptr && is_proven(extremes->highest)}};
}

}  // namespace

std::string audit_json(const House& house, const Tables& tables, const Audit& audit,
                       const std::optional<std::string>& scenario) {
  Json open = Json::array();
  for (const OpenNeutral& entry : audit.open_neutral) {
    open.push_back(open_neutral_json(house, entry));
  }
  Json ranking = Json::array();
  for (const RankRow& row : audit.ranking) {
    ranking.push_back(rank_json(house, audit, row, ranking.size() + 1));
  }
  Json findings = Json::array();
  for (const WiringFinding& finding : audit.findings) {
    findings.push_back({{"rule", finding.rule},
                        {"severity", name_of(finding.severity)},
                        {"subject", finding.subject},
                        {"text", finding.text},
                        {"source", finding.source},
                        {"observation", finding.observation},
                        {"implication", finding.implication},
                        {"recommendation", finding.recommendation}});
  }
  const Json object{{"format", kFormat},
                    {"house", name_of(house)},
                    {"supply", supply_json(house, tables)},
                    {"as_found", as_found_json(house, audit)},
                    {"open_neutral", open},
                    {"ranking", ranking},
                    {"findings", findings},
                    {"certified", audit.certified},
                    {"solved", audit.status == SolveStatus::Solved},
                    {"scenario", scenario ? Json(*scenario) : Json(nullptr)},
                    {"motor_starts", motor_starts_json(house, audit)},
                    {"caution", standing_caution()}};
  return text_of(object);
}

}  // namespace evenleg
