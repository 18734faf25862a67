#include "evenleg/audit/audit.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "src/audit/findings.h"
#include "src/audit/place_behaviour.h"
#include "src/audit/ranking.h"
#include "src/audit/worst_case.h"

namespace evenleg {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::vector<bool> loads_running(const House& house, const Model& model,
                                const std::optional<std::string>& name) {
  if (!name) return on_as_found(model);
  std::vector<std::string> known;
  for (const Scenario& scenario : house.scenarios) {
    known.push_back(scenario.name);
    if (scenario.name != *name) continue;
    std::vector<bool> on;
    for (const Load& load : house.loads) {
      const bool listed =
          std::find(scenario.on.begin(), scenario.on.end(), load.name) != scenario.on.end();
      const auto share = scenario.share.find(load.name);
      on.push_back(listed || (share != scenario.share.end() && share->second > 0));
    }
    return on;
  }
  throw Error(ErrorKind::Request,
              {"--scenario", fmt::format("the house has no scenario \"{}\"", *name),
               known.empty() ? "add one with [[scenario]]"
                             : "choose " + listed(known)});
}

// The work of one audit, in the order of its result.
class Auditor {
 public:
  Auditor(const House& house, const Tables& tables, const AuditOptions& options)
      : house_(house), tables_(tables), options_(options),
        wiring_(wire(house, *find_system(vocabulary(tables), house.supply.system))),
        model_(build_model(house, wiring_, tables)),
        on_(loads_running(house, model_, options.scenario)),
        worst_(house, model_, {.certify = options.certify}),
        places_(fault_places(house, wiring_)),
        behaviours_(load_behaviours(house, model_, tables)) {}

  Audit run() {
    audit_.certified = options_.certify;
    as_found_ = solve(model_, admittances(model_, on_));
    audit_.status = as_found_.status;
    fill_as_found();
    for (const Place& place : neutral_places()) {
      audit_.neutrals.push_back(neutral_row(place));
      progress();
    }
    for (const Place& place : places_) {
      audit_.open_neutral.push_back(open(place));
      progress();
    }
    audit_.ranking = rank(house_, model_, tables_, audit_.open_neutral);
    fill_behaviour();
    audit_.findings = find_wiring_faults(
        {house_, wiring_, model_, tables_, as_found_, on_, audit_.neutrals, audit_.open_neutral,
         audit_.ranking, audit_.harmonics});
    return std::move(audit_);
  }

 private:
  void progress() {
    const std::size_t all = neutral_places().size() + places_.size();
    if (options_.progress) options_.progress(++done_, static_cast<int>(all));
  }

  void fill_as_found() {
    const PanelState& first = as_found_.panels.front();
    for (std::size_t i = 0; i < first.hot.size(); ++i) {
      const int leg = model_.panels.front().legs[i];
      audit_.legs.push_back({wiring_.system.legs[at(leg)].name, amps(std::abs(first.hot_amps[i])),
                             volts(std::abs(first.hot[i] - first.neutral))});
    }
    for (std::size_t l = 0; l < model_.loads.size(); ++l) {
      if (!on_[l]) continue;
      audit_.loads.push_back({static_cast<int>(l), volts(std::abs(as_found_.load_volts[l])),
                              amps(std::abs(as_found_.load_amps[l]))});
    }
  }

  void fill_behaviour() {
    const double degraded =
        options_.degraded_neutral_ohms.value_or(tables_.motor_starting.degraded_ohms);
    const FoundState found{house_, wiring_, model_, tables_, on_, degraded};
    audit_.harmonics = find_harmonics(found, neutral_places());
    audit_.motor_starts = find_motor_starts(found);
  }

  // The service, each feeder and each multiwire's shared run, on one leg or more.
  [[nodiscard]] std::vector<Place> neutral_places() const {
    std::vector<Place> places;
    for (const Place& place : places_) {
      if (!in_cable(place)) places.push_back(place);
    }
    for (std::size_t c = 0; c < wiring_.cables.size(); ++c) {
      const int multiwire = wiring_.cables[c].multiwire;
      if (multiwire < 0) continue;
      places.push_back({house_.multiwires[at(multiwire)].name, PlaceKind::SharedRun, 0,
                        static_cast<int>(c), 1});
    }
    return places;
  }

  [[nodiscard]] const Run& run_of(const Place& place) const {
    static const Run kNone;
    if (place.kind == PlaceKind::Service) return house_.service ? house_.service->run : kNone;
    if (place.kind == PlaceKind::Feeder) return house_.panels[at(place.panel)].run;
    return wiring_.cables[at(place.cable)].boxes[at(place.box)].run;
  }

  NeutralRow neutral_row(const Place& place) {
    NeutralRow row;
    row.place = place.name;
    row.kind = place.kind;
    row.highest = worst_.neutral_amps(place);
    if (place.kind == PlaceKind::Service) {
      row.amps = amps(std::abs(as_found_.service_neutral_amps));
      row.earth_return_amps = amps(std::abs(as_found_.earth_return_amps));
      take_conductor_share(row);
    } else if (place.kind == PlaceKind::Feeder) {
      row.amps = amps(std::abs(as_found_.panels[at(place.panel)].neutral_amps));
    } else {
      row.amps = amps(std::abs(as_found_.boxes[at(place.cable)][at(place.box)].neutral_amps));
    }
    rate(run_of(place), row);
    return row;
  }

  // The service conductor's share of what returns beside the hots, when earth carries some of it.
  void take_conductor_share(NeutralRow& row) const {
    const auto conductor = service_neutral_ohms(model_, std::nullopt);
    if (!row.highest || !model_.earth_return_ohms || !conductor || *conductor == Complex{}) return;
    const double earth = *model_.earth_return_ohms;
    const double share = std::abs(earth / (*conductor + earth));
    row.highest->value = share * row.highest->value;
    row.highest->bound = share * row.highest->bound;
  }

  void rate(const Run& run, NeutralRow& row) const {
    const auto& name = run.neutral ? run.neutral : run.conductor;
    const Conductor* conductor = name ? find_conductor(tables_, *name) : nullptr;
    if (conductor == nullptr) return;
    if (const auto ampacity = branch_ampacity(*conductor)) {
      row.rated_amps = amps(*ampacity);
      row.rated_source = short_form(conductor->ampacity_source);
    }
  }

  OpenNeutral open(const Place& place) {
    OpenNeutral result;
    result.place = place;
    const NeutralFault fault{place};
    const Solution opened = solve(model_, admittances(model_, on_), fault);
    if (in_cable(place)) {
      const BoxState& box = opened.boxes[at(place.cable)][at(place.box)];
      result.neutral_shift = volts(box.isolated ? 0 : std::abs(box.neutral));
    } else {
      const PanelState& panel = opened.panels[at(place.panel)];
      result.neutral_shift = volts(panel.isolated ? 0 : std::abs(panel.neutral));
      result.protected_by = protecting_panel(place, fault);
    }
    fill_extremes(place, fault, opened, result);
    result.behaviour = place_behaviour(house_, model_, tables_, behaviours_, on_, result);
    return result;
  }

  // A neutral-loss device in the panel just beyond the break, if some credible state reaches it.
  std::optional<std::string> protecting_panel(const Place& place, const NeutralFault& fault) {
    const Panel& panel = house_.panels[at(place.panel)];
    if (!panel.neutral_loss_trip_volts) return std::nullopt;
    for (int leg : model_.panels[at(place.panel)].legs) {
      if (worst_.panel_leg_volts(fault, place.panel, leg) > *panel.neutral_loss_trip_volts) {
        return panel.name;
      }
    }
    return std::nullopt;
  }

  void fill_extremes(const Place& place, const NeutralFault& fault, const Solution& opened,
                     OpenNeutral& result) {
    const std::vector<Terminals> loads = load_terminals_beyond(model_, place);
    const auto empty = empty_terminals_beyond(house_, wiring_, model_, place);
    std::vector<Terminals> asked;
    std::vector<std::size_t> answer;  // of each load: loads alike share one
    for (const Terminals& t : loads) {
      Terminals stand_in = t;
      stand_in.load = worst_.credible().stand_in[at(t.load)];
      const auto same = std::find_if(asked.begin(), asked.end(), [&](const Terminals& other) {
        return other.load == stand_in.load;
      });
      answer.push_back(static_cast<std::size_t>(same - asked.begin()));
      if (same == asked.end()) asked.push_back(stand_in);
    }
    for (const auto& [outlet, terminals] : empty) asked.push_back(terminals);
    const std::vector<Extremes<Volts>> extremes = worst_.terminals(fault, asked);
    for (std::size_t i = 0; i < loads.size(); ++i) {
      LoadExtremes row;
      row.load = loads[i].load;
      if (on_[at(row.load)]) row.as_found = volts(std::abs(opened.load_volts[at(row.load)]));
      row.highest = for_load(extremes[answer[i]].highest, asked[answer[i]].load, row.load);
      row.lowest = for_load(extremes[answer[i]].lowest, asked[answer[i]].load, row.load);
      result.loads.push_back(std::move(row));
    }
    for (std::size_t i = 0; i < empty.size(); ++i) {
      const auto& [outlet, terminals] = empty[i];
      const Extremes<Volts>& found = extremes[asked.size() - empty.size() + i];
      result.outlets.push_back({outlet,
                                legs_text(wiring_, wiring_.cables[at(terminals.cable)],
                                          terminals.from, kNeutral),
                                found.highest, found.lowest});
    }
  }

  // The extreme found for a load's stand-in, with the load itself in its place.
  static std::optional<Extreme<Volts>> for_load(std::optional<Extreme<Volts>> extreme,
                                                int stand_in, int load) {
    if (!extreme || stand_in == load) return extreme;
    std::vector<int>& on = extreme->on;
    if (std::find(on.begin(), on.end(), load) == on.end()) {
      std::replace(on.begin(), on.end(), stand_in, load);
      std::sort(on.begin(), on.end());
    }
    return extreme;
  }

  const House& house_;
  const Tables& tables_;
  const AuditOptions& options_;
  Wiring wiring_;
  Model model_;
  std::vector<bool> on_;
  WorstCase worst_;
  std::vector<Place> places_;
  std::vector<LoadBehaviour> behaviours_;
  Solution as_found_;
  Audit audit_;
  int done_ = 0;
};

}  // namespace

Audit audit(const House& house, const Tables& tables, const AuditOptions& options) {
  return Auditor(house, tables, options).run();
}

bool shows_danger(const Audit& audit) {
  return std::any_of(audit.findings.begin(), audit.findings.end(), [](const WiringFinding& f) {
    return f.severity == FindingSeverity::Danger;
  });
}

}  // namespace evenleg
