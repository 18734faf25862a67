#include "evenleg/report/neutral_json.h"

#include <nlohmann/json.hpp>

#include "evenleg/report/cautions.h"
#include "src/report/audit_json_parts.h"
#include "evenleg/report/behaviour_json.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 1;  // of this object; raised when a key changes its meaning

Json name_at(const House& house, int load) {
  return house.loads[static_cast<std::size_t>(load)].name;
}

Json name_or_null(const House& house, int load) {
  return load < 0 ? Json(nullptr) : name_at(house, load);
}

// What may be added for each ohm of the conductor's own; null where it has none or nothing limits.
Json limit_over_sound(const NeutralDepth& depth) {
  const bool margin = depth.high && depth.sound > ohms(0);
  return margin ? number(depth.high->ohms / depth.sound) : Json(nullptr);
}

Json outlets_json(const NeutralPoint& point) {
  Json outlets = Json::array();
  for (const OutletVolts& row : point.outlets) {
    outlets.push_back(
        {{"outlet", row.where}, {"legs", row.legs}, {"as_found_volts", number(row.as_found.si())}});
  }
  return outlets;
}

Json point_json(const House& house, const NeutralPoint& point) {
  Json legs = Json::array();
  for (const LegRow& row : point.legs) {
    legs.push_back({{"leg", row.leg}, {"volts", number(row.volts.si())}});
  }
  Json loads = Json::array();
  for (const LoadExtremes& row : point.loads) loads.push_back(load_extremes_json(house, row));
  Json empty = Json::array();
  for (const OutletExtremes& row : point.empty) empty.push_back(outlet_extremes_json(house, row));
  return {{"ohms", number(point.added.si())},
          {"legs", legs},
          {"highest_volts", value_of(point.highest)},
          {"lowest_volts", value_of(point.lowest)},
          {"proven", is_proven(point.highest) && is_proven(point.lowest)},
          {"highest_load", name_or_null(house, point.highest_load)},
          {"highest_bound", bound_of(point.highest)},
          {"lowest_load", name_or_null(house, point.lowest_load)},
          {"lowest_bound", bound_of(point.lowest)},
          {"neutral_shift_volts", number(point.neutral_shift.si())},
          {"amps", number(point.amps.si())},
          {"heat_watts", number(point.heat.si())},
          {"highest_heat_watts", value_of(point.highest_heat)},
          {"highest_heat_on", on_of(house, point.highest_heat)},
          {"highest_heat_bound", bound_of(point.highest_heat)},
          {"highest_heat_proven", is_proven(point.highest_heat)},
          {"outlets", outlets_json(point)},
          {"loads", loads},
          {"empty_outlets", empty}};
}

}  // namespace

std::string neutral_json(const House& house, const Tables& /*tables*/, const NeutralDepth& depth,
                         const std::optional<std::string>& scenario) {
  Json object{{"format", kFormat},
              {"house", name_of(house)},
              {"place", depth.place.name},
              {"sound_ohms", number(depth.sound.si())}};
  add_limit(house, depth.high, object);
  Json curve = Json::array();
  for (const NeutralPoint& point : depth.curve) curve.push_back(point_json(house, point));
  object["curve"] = std::move(curve);
  object["kind"] = name_of(depth.place.kind);
  object["limit_over_sound"] = limit_over_sound(depth);
  add_limit(house, depth.low, object, "low_");
  if (depth.next_high) add_limit(house, depth.next_high, object, "next_");
  object["none_high_proven"] = depth.none_high_proven;
  object["none_low_proven"] = depth.none_low_proven;
  object["protected_by"] = depth.protected_by ? Json(*depth.protected_by) : Json(nullptr);
  object["behaviour"] = behaviour_json(house, depth.behaviour);
  object["behaviour_left_out"] = depth.behaviour_left_out;
  object["certified"] = depth.certified;
  object["scenario"] = scenario ? Json(*scenario) : Json(nullptr);
  object["caution"] = standing_caution();
  return text_of(object);
}

}  // namespace evenleg
