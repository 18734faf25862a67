#include "src/report/audit_json_parts.h"

#include <fmt/format.h>

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kIndent = 2;

void add_current(const HarmonicCurrent& current, Json& entry) {
  entry["rms_amps"] = number(current.rms.si());
  entry["thd"] = number(current.distortion);
  Json orders = Json::array();
  for (const OrderAmps& part : current.orders) {
    orders.push_back({{"order", part.order}, {"amps", number(part.amps.si())}});
  }
  entry["harmonics"] = std::move(orders);
}

Json dip_json(const DipRow& row, std::string_view place) {
  Json out{{std::string(place), row.where},
           {"legs", row.legs},
           {"before_volts", number(row.before.si())},
           {"during_volts", number(row.during.si())},
           {"dip_percent", number(row.percent)}};
  if (place == "outlet") out["motor_alone"] = row.motor_alone;
  return out;
}

Json flicker_json(const std::optional<StartFlicker>& flicker) {
  if (!flicker) return nullptr;
  return {{"changes_per_minute", number(flicker->changes_per_minute)},
          {"change_percent", number(flicker->change_percent)},
          {"rare", flicker->rare},
          {"pst_by_table", number(flicker->by_table)},
          {"pst_by_formula", number(flicker->by_formula)}};
}

Json state_json(const StartState& state) {
  Json outlets = Json::array();
  for (const DipRow& row : state.outlets) outlets.push_back(dip_json(row, "outlet"));
  Json legs = Json::array();
  for (const DipRow& row : state.legs) legs.push_back(dip_json(row, "panel"));
  return {{"added_neutral_ohms", number(state.added_neutral.si())},
          {"amps", number(state.amps.si())},
          {"verdict", name_of(state.verdict)},
          {"change_percent", number(state.change_percent)},
          {"change_limits_passed", state.limits_passed},
          {"flicker", flicker_json(state.flicker)},
          {"outlets", std::move(outlets)},
          {"legs", std::move(legs)}};
}

}  // namespace

Json load_extremes_json(const House& house, const LoadExtremes& row) {
  const Load& load = house.loads[static_cast<std::size_t>(row.load)];
  return {{"load", load.name},
          {"outlet", load.at},
          {"as_found_volts", number(row.as_found)},
          {"highest_volts", value_of(row.highest)},
          {"highest_on", on_of(house, row.highest)},
          {"highest_bound", bound_of(row.highest)},
          {"lowest_volts", value_of(row.lowest)},
          {"lowest_on", on_of(house, row.lowest)},
          {"lowest_bound", bound_of(row.lowest)},
          {"proven", proven(row)}};
}

Json outlet_extremes_json(const House& house, const OutletExtremes& row) {
  return {{"outlet", house.outlets[static_cast<std::size_t>(row.outlet)].name},
          {"legs", row.legs},
          {"highest_volts", value_of(row.highest)},
          {"lowest_volts", value_of(row.lowest)},
          {"proven", is_proven(row.highest) && is_proven(row.lowest)},
          {"highest_on", on_of(house, row.highest)},
          {"highest_bound", bound_of(row.highest)},
          {"lowest_on", on_of(house, row.lowest)},
          {"lowest_bound", bound_of(row.lowest)}};
}

void add_limit(const House& house, const std::optional<NeutralLimit>& limit, Json& out,
               std::string_view prefix) {
  const auto key = [&](std::string_view name) { return fmt::format("{}limit_{}", prefix, name); };
  out[key("ohms")] = limit ? number(limit->ohms.si()) : Json(nullptr);
  out[key("load")] =
      limit ? Json(house.loads[static_cast<std::size_t>(limit->load)].name) : Json(nullptr);
  out[key("volts")] = limit ? number(limit->volts.si()) : Json(nullptr);
  out[key("on")] = limit ? Json(load_names(house, limit->on)) : Json::array();
  out[key("proven")] = limit ? Json(limit->proven) : Json(nullptr);
}

void add_harmonics(const Audit& audit, Json& as_found) {
  if (!audit.harmonics) return;
  const Harmonics& harmonics = *audit.harmonics;
  for (std::size_t i = 0; i < harmonics.legs.size(); ++i) {
    Json& entry = as_found["legs"][i];
    add_current(harmonics.legs[i].current, entry);
    entry["volts_thd"] = number(harmonics.legs[i].volts_distortion);
    entry["degraded_volts_thd"] = number(harmonics.legs[i].volts_distortion_degraded);
  }
  for (std::size_t i = 0; i < harmonics.neutrals.size(); ++i) {
    add_current(harmonics.neutrals[i], as_found["neutrals"][i]);
  }
}

Json motor_starts_json(const House& house, const Audit& audit) {
  Json starts = Json::array();
  for (const MotorStart& start : audit.motor_starts) {
    const Load& load = house.loads[static_cast<std::size_t>(start.load)];
    starts.push_back({{"load", load.name},
                      {"outlet", load.at},
                      {"starting_amps", number(start.locked_rotor.si())},
                      {"at_least", start.at_least},
                      {"nameplate_volts", number(start.nameplate.si())},
                      {"power_factor", number(start.power_factor)},
                      {"starts_per_hour", number(load.starts_per_hour)},
                      {"seen_from_percent", number(start.seen_from_percent)},
                      {"sound", state_json(start.sound)},
                      {"degraded", state_json(start.degraded)}});
  }
  return starts;
}

std::string text_of(const Json& object) {
  return object.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace evenleg
