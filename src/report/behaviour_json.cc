#include "evenleg/report/behaviour_json.h"

#include <cmath>

#include "evenleg/report/audit_words.h"
#include "src/report/audit_json_parts.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

Json name_at(const House& house, int load) {
  return load < 0 ? Json(nullptr) : Json(house.loads[static_cast<std::size_t>(load)].name);
}

Json loads_json(const House& house, const std::vector<BehavingLoad>& loads) {
  Json all = Json::array();
  for (const BehavingLoad& seen : loads) {
    all.push_back({{"load", name_at(house, seen.load)},
                   {"volts", number(seen.volts.si())},
                   {"status", name_of(seen.status)},
                   {"conducting", seen.conducting},
                   {"past_failing", seen.past_failing}});
  }
  return all;
}

std::string_view name_of(CascadeCause cause) {
  switch (cause) {
    case CascadeCause::Opened:
      return "neutral opened";
    case CascadeCause::Failed:
      return "failed open";
    case CascadeCause::Tripped:
      return "overload opened";
  }
  return "";
}

std::string_view name_of(CascadeEnd end) {
  switch (end) {
    case CascadeEnd::Rests:
      return "rests";
    case CascadeEnd::Floats:
      return "floats";
    case CascadeEnd::Cycles:
      return "cycles";
    case CascadeEnd::NotSettled:
      return "not settled";
  }
  return "";
}

Json step_json(const House& house, const CascadeStep& step) {
  Json changes = Json::array();
  for (const StatusChange& change : step.changes) {
    changes.push_back({{"load", name_at(house, change.load)}, {"to", name_of(change.to)}});
  }
  return {{"cause", name_of(step.cause)},
          {"load", name_at(house, step.load)},
          {"changes", changes},
          {"end", name_of(step.end)},
          {"loads", loads_json(house, step.loads)}};
}

}  // namespace

Json behaviour_json(const House& house, const BehaviourResult& result) {
  Json points = Json::array();
  for (const BalancePoint& point : result.points) {
    points.push_back({{"stable", point.stable},
                      {"displacement_volts", number(std::abs(point.displacement.si()))},
                      {"loads", loads_json(house, point.loads)}});
  }
  Json cascade = Json::array();
  for (const CascadeStep& step : result.cascade) cascade.push_back(step_json(house, step));
  return {{"any_stable", any_stable(result)},
          {"all_statuses", result.all_statuses},
          {"balance_points", points},
          {"cascade", cascade}};
}

Json behaviour_json(const House& house, const std::vector<StateBehaviour>& states) {
  Json all = Json::array();
  for (const StateBehaviour& state : states) {
    Json entry{{"state", state.as_found ? "as found" : "highest"},
               {"highest_of", name_at(house, state.worst_load)},
               {"on", load_names(house, state.on)}};
    entry.update(behaviour_json(house, state.result));
    all.push_back(std::move(entry));
  }
  return all;
}

}  // namespace evenleg
