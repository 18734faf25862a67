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

Json limit_on(const House& house, const std::optional<NeutralLimit>& limit) {
  return limit ? Json(load_names(house, limit->on)) : Json::array();
}

void add_high_limit(const House& house, const NeutralDepth& depth, Json& out) {
  const std::optional<NeutralLimit>& limit = depth.high;
  out["limit_ohms"] = limit ? number(limit->ohms.si()) : Json(nullptr);
  out["limit_load"] = limit ? name_at(house, limit->load) : Json(nullptr);
  out["limit_volts"] = limit ? number(limit->volts.si()) : Json(nullptr);
}

void add_more_on_limits(const House& house, const NeutralDepth& depth, Json& out) {
  const std::optional<NeutralLimit>& high = depth.high;
  const std::optional<NeutralLimit>& low = depth.low;
  const bool margin = high && depth.sound > ohms(0);
  out["limit_on"] = limit_on(house, high);
  out["limit_proven"] = high && high->proven;
  out["limit_over_sound"] = margin ? number(high->ohms / depth.sound) : Json(nullptr);
  out["low_limit_ohms"] = low ? number(low->ohms.si()) : Json(nullptr);
  out["low_limit_load"] = low ? Json(name_at(house, low->load)) : Json(nullptr);
  out["low_limit_volts"] = low ? number(low->volts.si()) : Json(nullptr);
  out["low_limit_on"] = limit_on(house, low);
  out["low_limit_proven"] = low && low->proven;
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
  add_high_limit(house, depth, object);
  Json curve = Json::array();
  for (const NeutralPoint& point : depth.curve) curve.push_back(point_json(house, point));
  object["curve"] = std::move(curve);
  object["kind"] = name_of(depth.place.kind);
  add_more_on_limits(house, depth, object);
  object["behaviour"] = behaviour_json(house, depth.behaviour);
  object["certified"] = depth.certified;
  object["scenario"] = scenario ? Json(*scenario) : Json(nullptr);
  object["caution"] = standing_caution();
  return text_of(object);
}

}  // namespace evenleg
