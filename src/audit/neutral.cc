#include "evenleg/audit/neutral.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/base/index.h"
#include "src/audit/place_behaviour.h"
#include "src/audit/running.h"
#include "src/audit/worst_first.h"

namespace evenleg {
namespace {

// Added ohms that are looked at beside the limits, each about three times the one before, so that
// nothing of note lies between two.
const std::vector<double> kCurveOhms{0, 0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100, kOpen};

std::string_view kind_word(PlaceKind kind) {
  switch (kind) {
    case PlaceKind::Service:
      return "service";
    case PlaceKind::Feeder:
      return "feeder";
    case PlaceKind::SharedRun:
      return "multiwire";
    case PlaceKind::SharedLength:
      return "outlet";
  }
  return "";
}

// The work of one neutral, in the order of its result.
class InDepth {
 public:
  InDepth(const House& house, const Tables& tables, const std::string& place,
          const NeutralOptions& options)
      : house_(house), tables_(tables), options_(options),
        wiring_(wire(house, *find_system(vocabulary(tables), house.supply.system))),
        model_(build_model(house, wiring_, tables)),
        on_(loads_running(house, model_, options.scenario)),
        worst_(house, model_, {.certify = options.certify}),
        behaviours_(load_behaviours(house, model_, tables)),
        limits_high_(high_limits(house, model_, tables)), limits_low_(low_limits(behaviours_)) {
    depth_.place = place_named(house, wiring_, place, "PLACE");
    depth_.certified = options.certify;
  }

  NeutralDepth run() {
    depth_.sound = ohms(sound_run().neutral.real());
    search(kCurveOhms);
    find_limits();
    if (options_.certify) {
      prove();
      // A proof may have met a state past a limit where the search had met none.
      constexpr int kMostRounds = 4;
      for (int round = 0; round < kMostRounds && past_below_limits(); ++round) {
        find_limits();
        prove();
      }
      depth_.none_high_proven = !depth_.high && none_past_anywhere(limits_high_, Goal::Highest);
      depth_.none_low_proven = !depth_.low && none_past_anywhere(limits_low_, Goal::Lowest);
    }
    depth_.curve.resize(points_.size());
    at_once(options_.progress, "heat in the joint", points_.size(),
            [&](std::size_t i) { fill(i); });
    depth_.protected_by =
        protecting_panel(house_, model_, worst_, NeutralFault{depth_.place, kOpen});
    fill_behaviour();
    return std::move(depth_);
  }

 private:
  [[nodiscard]] const RunImpedance& sound_run() const {
    const Place& place = depth_.place;
    return in_cable(place) ? model_.cables[at(place.cable)].boxes[at(place.box)].run
                           : model_.panels[at(place.panel)].run;
  }

  // Adds points to the curve, searched, in their order.
  void search(const std::vector<double>& added) {
    const std::size_t before = points_.size();
    for (double ohms : added) {
      const bool there = std::any_of(points_.begin(), points_.end(), [&](const PlaceQuestion& q) {
        return q.fault().added_ohms == ohms;
      });
      if (there) continue;
      const NeutralFault fault{depth_.place, ohms};
      points_.push_back(points_.empty() ? PlaceQuestion(house_, wiring_, model_, worst_, fault)
                                        : points_.front().with_ohms(ohms));
    }
    at_once(options_.progress, "searching worst cases", points_.size() - before,
         [&](std::size_t i) { points_[before + i].fault_case().search(); });
    std::stable_sort(points_.begin(), points_.end(),
                     [](const PlaceQuestion& a, const PlaceQuestion& b) {
                       return a.fault().added_ohms < b.fault().added_ohms;
                     });
  }

  void find_limits() {
    depth_.high = limit(limits_high_, Goal::Highest);
    depth_.low = limit(limits_low_, Goal::Lowest);
    const LimitFinder finder(model_, points_.front(), options_.certify);
    const auto kept = finder.kept_when_sound(limits_high_, Goal::Highest);
    depth_.next_high = kept ? limit(*kept, Goal::Highest) : std::nullopt;
    for (const auto& found : {depth_.high, depth_.low, depth_.next_high}) {
      if (!found) continue;
      limits_.push_back(found->ohms.si());
      search({found->ohms.si()});
    }
  }

  // Some load is past its limit at a resistance below the one found.
  [[nodiscard]] bool past_below_limits() const {
    const auto below = [&](const std::optional<NeutralLimit>& found, const LoadLimits& limits,
                           Goal goal) {
      return std::any_of(points_.begin(), points_.end(), [&](const PlaceQuestion& point) {
        return (!found || point.fault().added_ohms < found->ohms.si()) &&
               any_past(point, limits, goal);
      });
    };
    return below(depth_.high, limits_high_, Goal::Highest) ||
           below(depth_.low, limits_low_, Goal::Lowest);
  }

  // From the smallest resistance of the curve at which a load is past its limit.
  [[nodiscard]] std::optional<NeutralLimit> limit(const LoadLimits& limits, Goal goal) const {
    const LimitFinder finder(model_, points_.front(), options_.certify);
    for (const PlaceQuestion& point : points_) {
      if (auto found = finder.from(point, limits, goal)) return found;
    }
    return std::nullopt;
  }

  // In full where it matters: sound, open and at the limits. In between, of all loads together.
  void prove() {
    std::vector<PlaceQuestion*> in_full;
    std::vector<PlaceQuestion*> between;
    for (PlaceQuestion& point : points_) {
      const double ohms = point.fault().added_ohms;
      const bool at_limit = std::any_of(limits_.begin(), limits_.end(),
                                        [&](double limit) { return limit == ohms; });
      (at_limit || ohms == 0 || ohms == kOpen ? in_full : between).push_back(&point);
    }
    prove_worst_first(in_full, limits_high_, options_.progress);
    prove_outermost(between, options_.progress);
  }

  [[nodiscard]] bool none_past_anywhere(const LoadLimits& limits, Goal goal) {
    std::vector<char> none(points_.size(), 0);
    at_once(options_.progress, "proving that no limit is passed", points_.size(),
            [&](std::size_t i) { none[i] = none_past(points_[i], limits, goal) ? 1 : 0; });
    return std::count(none.begin(), none.end(), 1) == static_cast<std::ptrdiff_t>(none.size());
  }

  void fill(std::size_t i) {
    const PlaceQuestion& question = points_[i];
    const NeutralFault& fault = question.fault();
    const Solution solved = solve(model_, admittances(model_, on_), fault);
    NeutralPoint& point = depth_.curve[i];
    point.added = ohms(fault.added_ohms);
    point.loads = question.loads(on_, solved);
    point.empty = question.empty_outlets();
    fill_outermost(point);
    fill_legs(solved, point);
    fill_outlets(solved, point);
    if (fault.added_ohms == 0 || fault.added_ohms == kOpen) return;
    point.heat = watts(fault.added_ohms * point.amps.si() * point.amps.si());
    if (const auto most = worst_.joint_amps(fault)) {
      const auto heat = [&](Amps through) {
        return watts(fault.added_ohms * through.si() * through.si());
      };
      point.highest_heat =
          Extreme<Watts>{heat(most->value), heat(most->bound), most->proven, most->on};
    }
  }

  static void fill_outermost(NeutralPoint& point) {
    constexpr double kProvenWithin = 0.01;  // volts
    const auto widen = [](std::optional<Extreme<Volts>>& all, int& by, const LoadExtremes& row,
                          const std::optional<Extreme<Volts>>& one, Goal goal) {
      if (!one) return;
      const Volts bound = all && !improves(goal, one->bound.si(), all->bound.si()) ? all->bound
                                                                                   : one->bound;
      if (!all || improves(goal, one->value.si(), all->value.si())) {
        all = one;
        by = row.load;
      }
      all->bound = bound;
      all->proven = std::abs((bound - all->value).si()) <= kProvenWithin;
    };
    for (const LoadExtremes& row : point.loads) {
      widen(point.highest, point.highest_load, row, row.highest, Goal::Highest);
      widen(point.lowest, point.lowest_load, row, row.lowest, Goal::Lowest);
    }
  }

  // Volts to the neutral just beyond the joint, and what goes through it.
  void fill_legs(const Solution& solved, NeutralPoint& point) const {
    const Place& place = depth_.place;
    if (in_cable(place)) {
      const BoxState& box = solved.boxes[at(place.cable)][at(place.box)];
      const CableModel& cable = model_.cables[at(place.cable)];
      for (int hot : cable.boxes[at(place.box)].hots) {
        add_leg(cable.hots[at(hot)].leg, box.hot[at(hot)], box.neutral, box.isolated, point);
      }
      point.neutral_shift = volts(box.isolated ? 0 : std::abs(box.neutral));
      point.amps = amps(std::abs(box.neutral_amps));
      return;
    }
    const PanelState& panel = solved.panels[at(place.panel)];
    for (std::size_t i = 0; i < panel.hot.size(); ++i) {
      add_leg(model_.panels[at(place.panel)].legs[i], panel.hot[i], panel.neutral, panel.isolated,
              point);
    }
    point.neutral_shift = volts(panel.isolated ? 0 : std::abs(panel.neutral));
    const Complex through = place.kind == PlaceKind::Service ? solved.service_neutral_amps
                                                             : panel.neutral_amps;
    point.amps = amps(std::abs(through));
  }

  void add_leg(int leg, Complex hot, Complex neutral, bool isolated, NeutralPoint& point) const {
    point.legs.push_back({wiring_.system.legs[at(leg)].name, {},
                          volts(isolated ? 0 : std::abs(hot - neutral))});
  }

  void fill_outlets(const Solution& solved, NeutralPoint& point) const {
    for (const OutletTerminals& t : outlet_terminals_beyond(house_, wiring_, model_,
                                                            depth_.place)) {
      const BoxState& box = solved.boxes[at(t.cable)][at(t.box)];
      const double as_found = box.isolated ? 0 : std::abs(box.hot[at(t.hot)] - box.neutral);
      point.outlets.push_back(
          {t.where, legs_text(wiring_, wiring_.cables[at(t.cable)], t.hot, kNeutral),
           volts(as_found)});
    }
  }

  void fill_behaviour() {
    OpenNeutral open;
    open.place = depth_.place;
    open.loads = depth_.curve.back().loads;
    PlaceBehaviour behaviour = place_behaviour(house_, model_, tables_, behaviours_, on_, open);
    depth_.behaviour = std::move(behaviour.states);
    depth_.behaviour_left_out = behaviour.left_out;
  }

  const House& house_;
  const Tables& tables_;
  const NeutralOptions& options_;
  Wiring wiring_;
  Model model_;
  std::vector<bool> on_;
  WorstCase worst_;
  std::vector<LoadBehaviour> behaviours_;
  LoadLimits limits_high_;
  LoadLimits limits_low_;
  std::vector<PlaceQuestion> points_;  // ascending in added ohms
  std::vector<double> limits_;         // ohms, of those found
  NeutralDepth depth_;
};

}  // namespace

Place place_named(const House& house, const Wiring& wiring, const std::string& name,
                  const std::string& asked_as) {
  const std::vector<Place> places = fault_places(house, wiring);
  if (name == places.front().name) return places.front();  // whatever else is named "service"
  const auto in_full_of = [](const Place& place) {
    return fmt::format("{} {}", kind_word(place.kind), place.name);
  };
  std::vector<Place> named;
  std::vector<std::string> known;
  std::vector<std::string> in_full;
  for (const Place& place : places) {
    if (in_full_of(place) == name) return place;
    const auto shared = std::count_if(places.begin(), places.end(),
                                      [&](const Place& other) { return other.name == place.name; });
    known.push_back(shared > 1 ? in_full_of(place) : place.name);
    if (place.name != name) continue;
    named.push_back(place);
    in_full.push_back(in_full_of(place));
  }
  if (named.empty()) {
    throw Error(ErrorKind::Request,
                {asked_as, fmt::format("no neutral that legs share is named \"{}\"", name),
                 "choose " + listed(known)});
  }
  if (named.size() > 1) {
    throw Error(ErrorKind::Request,
                {asked_as, fmt::format("more than one neutral is named \"{}\"", name),
                 "choose " + listed(in_full)});
  }
  return named.front();
}

NeutralDepth neutral_in_depth(const House& house, const Tables& tables, const std::string& place,
                              const NeutralOptions& options) {
  return InDepth(house, tables, place, options).run();
}

}  // namespace evenleg
