#include "evenleg/audit/behaviour.h"

#include <algorithm>

#include "evenleg/base/index.h"
#include "src/audit/place_behaviour.h"
#include "src/audit/ranking.h"

namespace evenleg {
namespace {

std::vector<int> listed(const std::vector<bool>& on) {
  std::vector<int> loads;
  for (std::size_t l = 0; l < on.size(); ++l) {
    if (on[l]) loads.push_back(static_cast<int>(l));
  }
  return loads;
}

// The load of the place that goes furthest past what it withstands; nullptr when none can be on.
const LoadExtremes* worst_of(const House& house, const Model& model, const Tables& tables,
                             const OpenNeutral& open) {
  const LoadExtremes* worst = nullptr;
  double over = 0;
  for (const LoadExtremes& row : open.loads) {
    if (!row.highest) continue;
    const Volts limit =
        withstood_volts(house.loads[at(row.load)], model.loads[at(row.load)], tables);
    const double here = row.highest->value / limit;
    if (worst != nullptr && here <= over) continue;
    worst = &row;
    over = here;
  }
  return worst;
}

// The loads that are on beyond the place and follow a law of their own.
int count_followed(const std::vector<LoadBehaviour>& behaviours, const std::vector<bool>& on,
                   const OpenNeutral& open) {
  return static_cast<int>(
      std::count_if(open.loads.begin(), open.loads.end(), [&](const LoadExtremes& row) {
        return on[at(row.load)] && !is_constant_impedance(behaviours[at(row.load)].law);
      }));
}

}  // namespace

BehaviourResult behaviour_at(const House& house, const Tables& tables, const NeutralFault& fault,
                             const std::vector<bool>& on) {
  const Wiring wiring = wire(house, *find_system(vocabulary(tables), house.supply.system));
  const Model model = build_model(house, wiring, tables);
  return behaviour(model, load_behaviours(house, model, tables), fault, on);
}

bool departs(const BehaviourResult& result) {
  if (!result.any_law || result.cascade.empty()) return false;
  return result.cascade.size() > 1 || result.cascade.front().ran_away ||
         result.cascade.front().end != CascadeEnd::Rests || !any_stable(result);
}

PlaceBehaviour place_behaviour(const House& house, const Model& model, const Tables& tables,
                               const std::vector<LoadBehaviour>& behaviours,
                               const std::vector<bool>& on_as_found, const OpenNeutral& open) {
  PlaceBehaviour result_of_place;
  std::vector<StateBehaviour>& states = result_of_place.states;
  const NeutralFault fault{open.place};
  const auto add = [&](bool as_found, int load, const std::vector<bool>& on) {
    const int running = static_cast<int>(std::count(on.begin(), on.end(), true));
    if (count_followed(behaviours, on, open) > kMostFollowed || running > kMostRunning) {
      result_of_place.left_out = std::max(result_of_place.left_out, running);
      return;
    }
    BehaviourResult result = behaviour(model, behaviours, fault, on);
    if (result.any_law) states.push_back({as_found, load, listed(on), std::move(result)});
  };
  add(true, -1, on_as_found);
  if (const LoadExtremes* worst = worst_of(house, model, tables, open)) {
    std::vector<bool> on(model.loads.size(), false);
    for (int load : worst->highest->on) on[at(load)] = true;
    add(false, worst->load, on);
  }
  return result_of_place;
}

}  // namespace evenleg
