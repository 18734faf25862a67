#include "src/page/state_answer.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "evenleg/balance/leg_loads.h"
#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/report/audit_words.h"
#include "evenleg/report/behaviour_json.h"
#include "src/page/entry_json.h"
#include "src/page/house_answer.h"
#include "src/page/moves.h"
#include "src/page/place_names.h"
#include "src/page/requests.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

// A lamp's change that anyone sees: 5 % of nominal volts, the usual edge of a service's range.
// Ours.
constexpr double kSeen = 0.05;

template <class Unit>
Json number(const std::optional<Quantity<Unit>>& value) {
  return value && std::isfinite(value->si()) ? Json(value->si()) : Json(nullptr);
}

Json legs_json(const std::vector<SeenLeg>& legs) {
  Json list = Json::array();
  for (const SeenLeg& leg : legs) {
    list.push_back({{"leg", leg.leg}, {"volts", number(leg.volts)}, {"amps", leg.amps.si()}});
  }
  return list;
}

Json panels_json(const House& house, const SeenState& seen) {
  Json list = Json::array();
  for (std::size_t p = 0; p < seen.panels.size(); ++p) {
    list.push_back({{"panel", house.panels[p].name},
                    {"legs", legs_json(seen.panels[p].legs)},
                    {"neutral_amps", seen.panels[p].neutral_amps.si()},
                    {"isolated", seen.panels[p].isolated}});
  }
  return list;
}

Json neutrals_json(const std::vector<Place>& places, const SeenState& seen,
                   const std::optional<NeutralFault>& fault) {
  Json list = Json::array();
  for (const SeenNeutral& row : seen.neutrals) {
    list.push_back({{"place", name_to_ask(row.place, places)},
                    {"kind", name_of(row.place.kind)},
                    {"text", neutral_at(row.place)},
                    {"amps", row.amps.si()},
                    {"rated_amps", number(row.rated_amps)},
                    {"fault", fault && fault->place == row.place}});
  }
  return list;
}

Json circuits_json(const House& house, const SeenState& seen) {
  Json list = Json::array();
  for (std::size_t c = 0; c < seen.circuit_amps.size(); ++c) {
    Json amps = Json::array();
    for (const Amps& pole : seen.circuit_amps[c]) amps.push_back(pole.si());
    list.push_back({{"circuit", house.circuits[c].name}, {"amps", amps}});
  }
  return list;
}

Json outlets_json(const House& house, const SeenState& seen) {
  Json list = Json::array();
  for (std::size_t o = 0; o < seen.outlets.size(); ++o) {
    Json terminals = Json::array();
    for (const SeenTerminals& one : seen.outlets[o]) {
      terminals.push_back({{"legs", one.legs}, {"volts", number(one.volts)}});
    }
    list.push_back({{"outlet", house.outlets[o].name}, {"volts", terminals}});
  }
  return list;
}

const char* change_of(const SeenLoad& load) {
  if (!load.volts || !load.sound_volts) return "steady";
  const double change = load.volts->si() - load.sound_volts->si();
  if (std::abs(change) < kSeen * load.nominal.si()) return "steady";
  return change > 0 ? "bright" : "dim";
}

Json loads_json(const House& house, const SeenState& seen, const std::vector<bool>& on) {
  Json list = Json::array();
  for (std::size_t l = 0; l < seen.loads.size(); ++l) {
    const SeenLoad& load = seen.loads[l];
    const bool past = on[l] && load.volts && *load.volts > load.withstands;
    list.push_back(
        {{"load", house.loads[l].name},
         {"outlet", house.loads[l].at},
         {"legs", load.legs},
         {"on", static_cast<bool>(on[l])},
         {"volts", number(load.volts)},
         {"amps", load.amps.si()},
         {"watts", load.watts.si()},
         {"nominal_volts", load.nominal.si()},
         {"sound_volts", number(load.sound_volts)},
         {"withstands", load.withstands.si()},
         {"over", load.volts ? Json(load.volts->si() / load.withstands.si()) : Json(nullptr)},
         {"change", change_of(load)},
         {"past", past}});
  }
  return list;
}

std::vector<std::string> measured_names(const House& house) {
  std::vector<std::string> names;
  for (int circuit : measured_circuits(house)) {
    names.push_back(house.circuits[static_cast<std::size_t>(circuit)].name);
  }
  return names;
}

double spread_of(const std::vector<SeenLeg>& legs) {
  std::vector<double> amps;
  for (const SeenLeg& leg : legs) amps.push_back(leg.amps.si());
  return spread(amps);
}

// The house that is asked about: as it is, or with the drops of a plan that is tried.
std::shared_ptr<const StateWatcher> watcher_for(const Moment& moment, const OpenHouse& open,
                                                const nlohmann::json& request) {
  require_finished(moment);
  const std::vector<Drop> drops = drops_in(request);
  if (drops.empty()) return moment.watcher;
  House moved = with_drops(*moment.house, drops, open.words());
  std::vector<Fault> faults;
  for (const HouseFault& fault : validate(moved, open.words())) {
    faults.push_back({described(fault.subject, moved), fault.what, fault.remedy});
  }
  if (!faults.empty()) throw Error(ErrorKind::Request, std::move(faults));
  return std::make_shared<const StateWatcher>(std::move(moved), open.tables());
}

// The fewest moves that build the same faces; null where they would not build the same.
Json moves_json(const House& before, const House& after, const std::vector<Drop>& drops,
                const Json& faces, const OpenHouse& open) {
  const std::vector<Drop> fewest = fewest_drops(before, after, drops);
  try {
    const House again = with_drops(before, fewest, open.words());
    if (faces_json(again, open.words()) != faces) return nullptr;
  } catch (const Error&) {
    return nullptr;
  }
  Json list = Json::array();
  for (const Drop& drop : fewest) {
    Json move{{"circuit", drop.circuit}, {"space", drop.space}, {"at_once", true}};
    if (drop.panel) move["panel"] = *drop.panel;
    if (!drop.legs.empty()) move["legs"] = drop.legs;
    list.push_back(std::move(move));
  }
  return list;
}

std::vector<LegLoads> loads_by_scenario(const StateWatcher& watcher, const Tables& tables) {
  const auto circuits = circuit_loads(watcher.house(), watcher.wiring(), tables);
  return leg_loads(watcher.house(), watcher.wiring(), circuits);
}

Json scenarios_json(const std::vector<LegLoads>& rows, double& largest) {
  Json list = Json::array();
  for (const LegLoads& row : rows) {
    const double uneven = spread(row.service);
    largest = std::max(largest, uneven);
    list.push_back({{"scenario", row.scenario}, {"legs", row.service}, {"spread_amps", uneven}});
  }
  return list;
}

}  // namespace

void require_finished(const Moment& moment) {
  if (moment.watcher) return;
  std::vector<Fault> faults;
  for (const HouseFault& fault : moment.missing) {
    faults.push_back({described(fault.subject, *moment.house), fault.what, fault.remedy});
  }
  throw Error(ErrorKind::Request, std::move(faults));
}

Json state_answer(const Moment& moment, const OpenHouse& open, const std::string& body) {
  const nlohmann::json request = parsed(body);
  const auto watcher = watcher_for(moment, open, request);
  const House& house = watcher->house();
  const AskedState asked = state_in(request, *watcher);
  const SeenState seen = watcher->at(asked);
  if (seen.status != SolveStatus::Solved) {
    throw Error(ErrorKind::Request, {"state", std::string(sentence(seen.status)),
                                     "look for a load or a run of an unlikely value"});
  }
  const bool faulty = asked.fault && asked.fault->added_ohms > 0;
  return {{"format", kFormat},
          {"revision", moment.revision},
          {"status", "solved"},
          {"legs", legs_json(seen.panels.front().legs)},
          {"service",
           {{"neutral_amps", seen.service_neutral_amps.si()},
            {"earth_return_amps", seen.earth_return_amps.si()},
            {"neutral_shift_volts", seen.neutral_shift.si()}}},
          {"panels", panels_json(house, seen)},
          {"neutrals", neutrals_json(watcher->places(), seen, asked.fault)},
          {"circuits", circuits_json(house, seen)},
          {"outlets", outlets_json(house, seen)},
          {"loads", loads_json(house, seen, asked.on)},
          {"spread_amps", spread_of(seen.panels.front().legs)},
          {"measured", measured_names(house)},
          {"not_credible", seen.not_credible},
          {"open", faulty}};
}

Json behaviour_answer(const Moment& moment, const OpenHouse& open, const std::string& body) {
  const nlohmann::json request = parsed(body);
  const auto watcher = watcher_for(moment, open, request);
  const AskedState asked = state_in(request, *watcher);
  if (!asked.fault || !(asked.fault->added_ohms > 0)) {
    throw Error(ErrorKind::Request,
                {"behaviour", "no neutral is open or loosened", "open one first"});
  }
  const BehaviourResult result =
      behaviour_at(watcher->house(), open.tables(), *asked.fault, asked.on);
  return {{"format", kFormat},
          {"revision", moment.revision},
          {"place", name_to_ask(asked.fault->place, watcher->places())},
          {"any_law", result.any_law},
          {"connected", result.connected},
          {"behaviour", behaviour_json(watcher->house(), result)}};
}

Json try_answer(const Moment& moment, const OpenHouse& open, const std::string& body) {
  const nlohmann::json request = parsed(body);
  const auto tried = watcher_for(moment, open, request);
  const Json faces = faces_json(tried->house(), open.words());
  double before = 0;
  double after = 0;
  const Json was = scenarios_json(loads_by_scenario(*moment.watcher, open.tables()), before);
  const Json is = scenarios_json(loads_by_scenario(*tried, open.tables()), after);
  return {{"format", kFormat},
          {"revision", moment.revision},
          {"scenarios", is},
          {"spread_amps", after},
          {"before", was},
          {"before_spread_amps", before},
          {"panels", faces},
          {"moves", flag_in(request, "fewest")
                        ? moves_json(*moment.house, tried->house(), drops_in(request), faces, open)
                        : Json(nullptr)},
          {"notes", drop_notes(*moment.house, tried->house(), open.words())}};
}

}  // namespace evenleg
