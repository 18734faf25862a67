#include "evenleg/report/neutral_json.h"

#include <nlohmann/json.hpp>

#include "evenleg/report/cautions.h"
#include "src/report/audit_json_parts.h"
#include "src/report/behaviour_json.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFormat = 1;  // of this object; raised when a key changes its meaning

Json name_at(const House& house, int load) {
  return house.loads[static_cast<std::size_t>(load)].name;
}

// The row whose extreme goes furthest; nullptr when no load can be on.
const LoadExtremes* highest_of(const NeutralPoint& point) {
  const LoadExtremes* most = nullptr;
  for (const LoadExtremes& row : point.loads) {
    if (!row.highest) continue;
    if (most == nullptr || row.highest->value > most->highest->value) most = &row;
  }
  return most;
}

const LoadExtremes* lowest_of(const NeutralPoint& point) {
  const LoadExtremes* least = nullptr;
  for (const LoadExtremes& row : point.loads) {
    if (!row.lowest) continue;
    if (least == nullptr || row.lowest->value < least->lowest->value) least = &row;
  }
  return least;
}

// Whether no load can go beyond the volts of `highest_volts` and `lowest_volts`.
bool all_proven(const NeutralPoint& point) {
  for (const LoadExtremes& row : point.loads) {
    if (row.highest && !proven(row)) return false;
  }
  return true;
}

// What may be added for each ohm of the conductor's own; null where it has none or nothing limits.
Json limit_over_sound(const NeutralDepth& depth) {
  const bool margin = depth.high && depth.sound > ohms(0);
  return margin ? number(depth.high->ohms / depth.sound) : Json(nullptr);
}

Json outlets_json(const NeutralPoint& point) {
  Json outlets = Json::array();
  for (const OutletVolts& row : point.outlets) {
    outlets.push_back({{"outlet", row.where},
                       {"legs", row.legs},
                       {"as_found_volts", number(row.as_found.si())}});
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
  const LoadExtremes* highest = highest_of(point);
  const LoadExtremes* lowest = lowest_of(point);
  return {{"ohms", number(point.added.si())},
          {"legs", legs},
          {"highest_volts", highest == nullptr ? Json(nullptr) : value_of(highest->highest)},
          {"lowest_volts", lowest == nullptr ? Json(nullptr) : value_of(lowest->lowest)},
          {"proven", all_proven(point)},
          {"highest_load", highest == nullptr ? Json(nullptr) : name_at(house, highest->load)},
          {"lowest_load", lowest == nullptr ? Json(nullptr) : name_at(house, lowest->load)},
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
  object["behaviour"] = behaviour_json(house, depth.behaviour);
  object["certified"] = depth.certified;
  object["scenario"] = scenario ? Json(*scenario) : Json(nullptr);
  object["caution"] = standing_caution();
  return text_of(object);
}

}  // namespace evenleg
