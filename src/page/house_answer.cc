#include "src/page/house_answer.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "evenleg/base/index.h"
#include "evenleg/edit/unfinished.h"
#include "evenleg/house/load_words.h"
#include "evenleg/report/audit_words.h"
#include "src/page/entry_json.h"
#include "src/page/place_names.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

template <class Record>
Json entry_or_null(const std::optional<Record>& record) {
  return record ? entry_json(*record) : Json(nullptr);
}

Json description_json(const House& house) {
  return {{"house", house.about},
          {"supply", entry_json(house.supply)},
          {"transformer", entry_or_null(house.supply.transformer)},
          {"service", entry_or_null(house.service)},
          {"dwelling", entry_or_null(house.dwelling)},
          {"panel", entries_json(house.panels)},
          {"circuit", entries_json(house.circuits)},
          {"multiwire", entries_json(house.multiwires)},
          {"outlet", entries_json(house.outlets)},
          {"load", entries_json(house.loads)},
          {"scenario", entries_json(house.scenarios)},
          {"reading", entries_json(house.readings)},
          {"visit", house.visit},
          {"finding", entries_json(house.findings)}};
}

template <class Record>
std::string name_at(const std::vector<Record>& records, std::size_t i) {
  return i < records.size() ? records[i].name : "";
}

std::string name_of(const House& house, const Subject& subject) {
  const std::size_t i = at(subject.index);
  if (subject.kind == "panel") return name_at(house.panels, i);
  if (subject.kind == "circuit") return name_at(house.circuits, i);
  if (subject.kind == "multiwire") return name_at(house.multiwires, i);
  if (subject.kind == "outlet") return name_at(house.outlets, i);
  if (subject.kind == "load") return name_at(house.loads, i);
  if (subject.kind == "scenario") return name_at(house.scenarios, i);
  if (subject.kind == "reading" || subject.kind == "finding") {
    return "#" + std::to_string(subject.index + 1);
  }
  return "";
}

Json faults_json(const House& house, const std::vector<HouseFault>& faults) {
  Json list = Json::array();
  for (const HouseFault& fault : faults) {
    const bool transformer = fault.subject.kind == "supply.transformer";
    list.push_back({{"kind", transformer ? "transformer" : fault.subject.kind},
                    {"name", name_of(house, fault.subject)},
                    {"number", fault.subject.index + 1},
                    {"key", fault.subject.key},
                    {"what", fault.what},
                    {"remedy", fault.remedy}});
  }
  return list;
}

std::vector<std::string> leg_names(const House& house, const Vocabulary& words) {
  std::vector<std::string> names;
  const SupplySystem* system = find_system(words, house.supply.system);
  if (system == nullptr) return names;
  for (const Leg& leg : system->legs) names.push_back(leg.name);
  return names;
}

// The legs of every circuit, as far as they are known.
struct KnownLegs {
  std::vector<WiredPanel> panels;
  std::vector<int> circuit_panel;
  std::vector<std::vector<std::string>> circuits;
};

int panel_of(const House& house, const Circuit& circuit) {
  if (!circuit.panel) return house.panels.empty() ? -1 : 0;
  for (std::size_t p = 0; p < house.panels.size(); ++p) {
    if (house.panels[p].name == *circuit.panel) return static_cast<int>(p);
  }
  return -1;
}

KnownLegs known_legs(const House& house, const Vocabulary& words) {
  KnownLegs known;
  const SupplySystem* system = find_system(words, house.supply.system);
  if (system != nullptr) known.panels = wire_panels(house, *system);
  for (const Circuit& circuit : house.circuits) {
    const int panel = panel_of(house, circuit);
    known.circuit_panel.push_back(panel);
    std::vector<std::string> names;
    if (panel >= 0 && at(panel) < known.panels.size()) {
      for (int leg : legs_of_circuit(circuit, known.panels[at(panel)], *system)) {
        names.push_back(system->legs[at(leg)].name);
      }
    }
    known.circuits.push_back(std::move(names));
  }
  return known;
}

// What sits in each space of a panel, from 1: entries for "holds".
std::vector<Json> held_in(const House& house, const KnownLegs& known, std::size_t p) {
  const auto spaces = at(std::max(0, house.panels[p].spaces));
  std::vector<Json> held(spaces + 1, Json::array());
  const auto put = [&](int space, Json seat) {
    if (space >= 1 && at(space) <= spaces) held[at(space)].push_back(std::move(seat));
  };
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    const Circuit& circuit = house.circuits[c];
    if (known.circuit_panel[c] != static_cast<int>(p) || !circuit.space) continue;
    const auto& legs = known.circuits[c];
    for (int pole = 0; pole < circuit.poles; ++pole) {
      const bool has_leg = at(pole) < legs.size();
      put(*circuit.space + 2 * pole, {{"circuit", circuit.name},
                                      {"pole", pole + 1},
                                      {"leg", has_leg ? Json(legs[at(pole)]) : Json(nullptr)}});
    }
  }
  for (const Panel& fed : house.panels) {
    if (fed.fed_from != house.panels[p].name) continue;
    for (std::size_t i = 0; i < fed.at_spaces.size(); ++i) {
      put(fed.at_spaces[i], {{"feeds", fed.name}, {"pole", i + 1}});
    }
  }
  return held;
}

Json circuits_json(const House& house, const Vocabulary& words) {
  const KnownLegs known = known_legs(house, words);
  Json list = Json::array();
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    Json multiwire = nullptr;
    for (const Multiwire& one : house.multiwires) {
      const auto& in = one.circuits;
      if (std::find(in.begin(), in.end(), house.circuits[c].name) != in.end()) multiwire = one.name;
    }
    const int panel = known.circuit_panel[c];
    list.push_back({{"circuit", house.circuits[c].name},
                    {"panel", panel < 0 ? Json(nullptr) : Json(house.panels[at(panel)].name)},
                    {"legs", known.circuits[c]},
                    {"multiwire", multiwire}});
  }
  return list;
}

std::vector<std::string> circuits_on(const House& house, const Cable& cable,
                                     const std::vector<int>& hots) {
  std::vector<std::string> names;
  for (int hot : hots) {
    const std::string& name = house.circuits[at(cable.hots[at(hot)].circuit)].name;
    if (names.empty() || names.back() != name) names.push_back(name);
  }
  return names;
}

// What is known only of a house that can be wired.
void add_wired(const StateWatcher& watcher, Json& answer) {
  const House& house = watcher.house();
  const Wiring& wiring = watcher.wiring();
  for (std::size_t l = 0; l < house.loads.size(); ++l) {
    const WiredLoad& wired = wiring.loads[l];
    const LoadModel& load = watcher.model().loads[l];
    std::vector<int> hots{wired.from};
    if (wired.to != kNeutral) hots.push_back(wired.to);
    const Cable& cable = wiring.cables[at(wired.cable)];
    answer["loads"].push_back({{"load", house.loads[l].name},
                               {"circuits", circuits_on(house, cable, hots)},
                               {"legs", legs_text(wiring, cable, wired.from, wired.to)},
                               {"nominal_volts", load.nominal_volts},
                               {"rating", rating_text(house.loads[l])},
                               {"amps", load.nominal_volt_amps / load.nominal_volts},
                               {"cable", wired.cable}});
  }
  for (std::size_t o = 0; o < house.outlets.size(); ++o) {
    const Cable& cable = wiring.cables[at(wiring.outlet_cable[o])];
    const Box& box = cable.boxes[at(wiring.outlet_box[o])];
    answer["outlets"].push_back({{"outlet", house.outlets[o].name},
                                 {"circuits", circuits_on(house, cable, box.hots)},
                                 {"cable", wiring.outlet_cable[o]}});
  }
  for (const Place& place : watcher.places()) {
    answer["places"].push_back({{"place", name_to_ask(place, watcher.places())},
                                {"kind", evenleg::name_of(place.kind)},
                                {"text", neutral_at(place)}});
  }
}

}  // namespace

Json faces_json(const House& house, const Vocabulary& words) {
  const KnownLegs known = known_legs(house, words);
  const std::vector<std::string> names = leg_names(house, words);
  Json faces = Json::array();
  for (std::size_t p = 0; p < house.panels.size(); ++p) {
    std::vector<std::string> legs;
    if (p < known.panels.size()) {
      for (int leg : known.panels[p].legs) legs.push_back(names[at(leg)]);
    }
    const std::vector<Json> held = held_in(house, known, p);
    Json spaces = Json::array();
    for (std::size_t space = 1; space < held.size(); ++space) {
      const Json leg = legs.empty() ? Json(nullptr) : Json(legs[(space - 1) / 2 % legs.size()]);
      spaces.push_back({{"space", space}, {"leg", leg}, {"holds", held[space]}});
    }
    Json without = Json::array();
    for (std::size_t c = 0; c < house.circuits.size(); ++c) {
      const bool here = known.circuit_panel[c] == static_cast<int>(p);
      if (here && !house.circuits[c].space) without.push_back(house.circuits[c].name);
    }
    faces.push_back({{"panel", house.panels[p].name},
                     {"legs", legs},
                     {"spaces", spaces},
                     {"without_space", without}});
  }
  return faces;
}

Json house_answer(const Moment& moment, const OpenHouse& open, const std::string& program) {
  const House& house = *moment.house;
  Json answer{{"format", kFormat},
              {"revision", moment.revision},
              {"file", open.file().filename().string()},
              {"program", program},
              {"house", description_json(house)},
              {"legs", leg_names(house, open.words())},
              {"panels", faces_json(house, open.words())},
              {"circuits", circuits_json(house, open.words())},
              {"loads", Json::array()},
              {"outlets", Json::array()},
              {"places", Json::array()},
              {"unfinished", faults_json(house, moment.missing)},
              {"could_add", faults_json(house, taken_for_granted(house))},
              {"ready", moment.watcher != nullptr},
              {"undo", moment.undo ? Json(*moment.undo) : Json(nullptr)},
              {"redo", moment.redo ? Json(*moment.redo) : Json(nullptr)},
              {"undo_steps", moment.undo_steps}};
  if (moment.watcher) add_wired(*moment.watcher, answer);
  return answer;
}

}  // namespace evenleg
