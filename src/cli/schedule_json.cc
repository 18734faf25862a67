#include <nlohmann/json.hpp>

#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "evenleg/house/load_words.h"
#include "src/cli/panel_face.h"
#include "src/cli/schedule.h"
#include "src/cli/session.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Json number_or_null(const std::optional<double>& value) { return value ? Json(*value) : Json(); }
Json text_or_null(const std::optional<std::string>& value) { return value ? Json(*value) : Json(); }

Json legs_json(const Wiring& wiring, const std::vector<int>& legs) {
  Json list = Json::array();
  for (int leg : legs) list.push_back(wiring.system.legs[at(leg)].name);
  return list;
}

Json seat_json(const Seat& seat, const House& house, const Wiring& wiring) {
  if (seat.fed_panel >= 0) {
    const Panel& panel = house.panels[at(seat.fed_panel)];
    return {{"feeds", panel.name},
            {"pole", seat.pole + 1},
            {"breaker_a", number_or_null(panel.breaker_a)}};
  }
  const Circuit& circuit = house.circuits[at(seat.circuit)];
  const int leg = wiring.circuit_legs[at(seat.circuit)][at(seat.pole)];
  return {{"circuit", circuit.name},
          {"pole", seat.pole + 1},
          {"breaker_a", number_or_null(circuit.breaker_a)},
          {"leg", wiring.system.legs[at(leg)].name}};
}

Json panel_json(const House& house, const Wiring& wiring, int p) {
  const Panel& panel = house.panels[at(p)];
  const PanelFace face = face_of(house, wiring, p);
  Json spaces = Json::array();
  for (const Position& position : face.positions) {
    Json seats = Json::array();
    for (const Seat& seat : position.seats) seats.push_back(seat_json(seat, house, wiring));
    spaces.push_back({{"space", position.space},
                      {"leg", wiring.system.legs[at(position.leg)].name},
                      {"holds", seats}});
  }
  Json elsewhere = Json::array();
  for (int c : face.by_legs_only) {
    const Circuit& circuit = house.circuits[at(c)];
    elsewhere.push_back({{"circuit", circuit.name},
                         {"legs", circuit.legs},
                         {"breaker_a", number_or_null(circuit.breaker_a)}});
  }
  return {{"panel", panel.name},
          {"fed_from", text_or_null(panel.fed_from)},
          {"legs", legs_json(wiring, wiring.panels[at(p)].legs)},
          {"spaces", spaces},
          {"space_not_given", elsewhere}};
}

Json multiwires_json(const House& house, const Wiring& wiring) {
  Json list = Json::array();
  for (const Cable& cable : wiring.cables) {
    if (cable.multiwire < 0) continue;
    const Multiwire& multiwire = house.multiwires[at(cable.multiwire)];
    const SharedLegs shared = shared_legs(wiring, cable);
    const auto& common = multiwire.common_disconnect;
    list.push_back({{"multiwire", multiwire.name},
                    {"circuits", multiwire.circuits},
                    {"legs", shared.legs},
                    {"same_leg", shared.same_leg},
                    {"common_disconnect", common ? Json(*common) : Json()},
                    {"neutral_joint", multiwire.neutral_joint}});
  }
  return list;
}

Json loads_json(const House& house, const Wiring& wiring) {
  Json list = Json::array();
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    const Load& load = house.loads[l];
    const WiredLoad& wired = wiring.loads[l];
    Json circuits = Json::array();
    for (int circuit : wired.circuits) {
      const std::string& name = house.circuits[at(circuit)].name;
      if (circuits.empty() || circuits.back() != name) circuits.push_back(name);
    }
    const Cable& cable = wiring.cables[at(wired.cable)];
    list.push_back({{"load", load.name},
                    {"at", load.at},
                    {"circuits", circuits},
                    {"legs", legs_text(wiring, cable, wired.from, wired.to)},
                    {"rating", rating_text(load)},
                    {"kind", load.kind},
                    {"on", load.on},
                    {"switching", load.switching},
                    {"noncoincident", text_or_null(load.noncoincident)}});
  }
  return list;
}

Json scenarios_json(const House& house) {
  Json list = Json::array();
  for (const Scenario& scenario : house.scenarios) {
    Json shares = Json::object();
    for (const auto& [load, share] : scenario.share) shares[load] = share;
    list.push_back({{"scenario", scenario.name}, {"on", scenario.on}, {"share", shares}});
  }
  return list;
}

}  // namespace

Json schedule_json(const House& house, const Wiring& wiring) {
  Json legs = Json::array();
  for (const Leg& leg : wiring.system.legs) legs.push_back(leg.name);
  Json panels = Json::array();
  for (std::size_t p = 0; p < house.panels.size(); ++p) {
    panels.push_back(panel_json(house, wiring, static_cast<int>(p)));
  }
  return {{"format", kAnswerFormat},
          {"house", name_of(house)},
          {"supply", {{"system", house.supply.system}, {"legs", legs}}},
          {"panels", panels},
          {"multiwires", multiwires_json(house, wiring)},
          {"loads", loads_json(house, wiring)},
          {"scenarios", scenarios_json(house)}};
}

}  // namespace evenleg
