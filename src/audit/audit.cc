#include "evenleg/audit/audit.h"

#include <algorithm>
#include <cmath>

#include "evenleg/base/index.h"
#include "src/audit/findings.h"
#include "src/audit/neutral_rating.h"
#include "src/audit/place_behaviour.h"
#include "src/audit/ranking.h"
#include "src/audit/running.h"
#include "src/audit/worst_first.h"

namespace evenleg {
namespace {

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
        behaviours_(load_behaviours(house, model_, tables)),
        limits_(high_limits(house, model_, tables)),
        sound_(house, wiring_, model_, worst_, NeutralFault{places_.front(), 0}) {}

  Audit run() {
    audit_.certified = options_.certify;
    as_found_ = solve(model_, admittances(model_, on_));
    audit_.status = as_found_.status;
    fill_as_found();
    open_places();
    fill_neutrals();
    audit_.ranking = rank(house_, model_, tables_, audit_.open_neutral);
    fill_behaviour();
    audit_.findings = find_wiring_faults(
        {house_, wiring_, model_, tables_, as_found_, on_, audit_.neutrals, audit_.open_neutral,
         audit_.ranking, audit_.harmonics});
    return std::move(audit_);
  }

 private:
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

  void fill_neutrals() {
    const std::vector<Place> places = neutral_places();
    audit_.neutrals.resize(places.size());
    at_once(options_.progress, "neutral currents", places.size(),
         [&](std::size_t i) { audit_.neutrals[i] = neutral_row(places[i]); });
  }

  [[nodiscard]] NeutralRow neutral_row(const Place& place) const {
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
    if (auto rating = neutral_rating(house_, wiring_, tables_, place)) {
      row.rated_amps = rating->amps;
      row.rated_source = std::move(rating->source);
    }
    take_limit(place, row);
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

  void take_limit(const Place& place, NeutralRow& row) const {
    for (const OpenNeutral& open : audit_.open_neutral) {
      if (open.place != place) continue;
      row.limit = open.limit;
      row.next_limit = open.next_limit;
    }
  }

  // Values of every place first; then the proofs, what ranks highest first; then what rests on
  // both.
  void open_places() {
    for (const Place& place : places_) {
      questions_.emplace_back(house_, wiring_, model_, worst_, NeutralFault{place});
    }
    sound_.fault_case().search();
    at_once(options_.progress, "searching worst cases", questions_.size(),
         [&](std::size_t i) { questions_[i].fault_case().search(); });
    if (options_.certify) {
      std::vector<PlaceQuestion*> all;
      for (PlaceQuestion& question : questions_) all.push_back(&question);
      prove_worst_first(all, limits_, options_.progress);
    }
    audit_.open_neutral.resize(places_.size());
    at_once(options_.progress, "limits of neutrals", places_.size(),
            [&](std::size_t i) { fill_place(i); });
  }

  // From the sound house, in which a load that nothing else pulls down can see the most, and from
  // the open neutral. Where neither has a load past its limit, impedances of unlike angles could
  // still have one in between.
  [[nodiscard]] std::optional<NeutralLimit> limit_at(const PlaceQuestion& question,
                                                     const LimitFinder& finder,
                                                     const LoadLimits& limits) const {
    constexpr double kBetween[] = {0.1, 1, 10, 100};  // ohms
    if (auto sound = finder.from(sound_, limits, Goal::Highest)) return sound;
    if (auto open = finder.from(question, limits, Goal::Highest)) return open;
    const std::vector<std::size_t> likely = finder.likely_first(question, limits, Goal::Highest);
    for (const double ohms : kBetween) {
      PlaceQuestion between = question.with_ohms(ohms);
      between.fault_case().search(Goal::Highest, likely, question.fault_case());
      if (auto found = finder.from(between, limits, Goal::Highest)) return found;
    }
    return std::nullopt;
  }

  void fill_limits(const PlaceQuestion& question, OpenNeutral& result) const {
    const LoadLimits limits = of_those_asked(question, limits_);
    const LimitFinder finder(model_, sound_, options_.certify);
    result.limit = limit_at(question, finder, limits);
    const auto kept = finder.kept_when_sound(limits, Goal::Highest);
    if (kept) result.next_limit = limit_at(question, finder, *kept);
  }

  void fill_place(std::size_t i) {
    OpenNeutral& result = audit_.open_neutral[i];
    const PlaceQuestion& question = questions_[i];
    const Place& place = places_[i];
    result.place = place;
    const Solution opened = solve(model_, admittances(model_, on_), question.fault());
    if (in_cable(place)) {
      const BoxState& box = opened.boxes[at(place.cable)][at(place.box)];
      result.neutral_shift = volts(box.isolated ? 0 : std::abs(box.neutral));
    } else {
      const PanelState& panel = opened.panels[at(place.panel)];
      result.neutral_shift = volts(panel.isolated ? 0 : std::abs(panel.neutral));
      result.protected_by = protecting_panel(house_, model_, worst_, question.fault());
    }
    result.loads = question.loads(on_, opened);
    result.outlets = question.empty_outlets();
    fill_limits(question, result);
    PlaceBehaviour behaviour = place_behaviour(house_, model_, tables_, behaviours_, on_, result);
    result.behaviour = std::move(behaviour.states);
    result.behaviour_left_out = behaviour.left_out;
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
  LoadLimits limits_;                     // what each load withstands
  PlaceQuestion sound_;                   // every neutral sound
  std::vector<PlaceQuestion> questions_;  // by place
  Solution as_found_;
  Audit audit_;
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
