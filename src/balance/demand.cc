#include "evenleg/balance/demand.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/house/wiring.h"
#include "src/balance/demand_items.h"
#include "src/balance/demand_lines.h"
#include "src/balance/demand_work.h"

namespace evenleg {
namespace {

// Files of data that are parts of methods, not methods.
bool is_part(const DemandMethod& method) {
  return method.name == "neutral" || method.name == "service";
}

[[noreturn]] void refuse(std::string where, std::string what, std::string remedy) {
  throw Error(ErrorKind::Request, {std::move(where), std::move(what), std::move(remedy)});
}

const DemandMethod& method_for(const Tables& tables, const std::string& name) {
  const DemandMethod* method = find_demand_method(tables, name);
  if (method != nullptr && !is_part(*method)) return *method;
  refuse("--method", fmt::format("\"{}\" is no method", name),
         fmt::format("name one of: {}", fmt::join(demand_methods(tables), ", ")));
}

int edition_for(const DemandMethod& method, std::optional<int> asked) {
  const int edition = asked.value_or(method.default_edition);
  const auto& known = method.editions;
  if (std::find(known.begin(), known.end(), edition) != known.end()) return edition;
  refuse("--edition", fmt::format("the method \"{}\" has no edition of {}", method.name, edition),
         fmt::format("name one of: {}", fmt::join(known, ", ")));
}

const SupplySystem& system_for(const House& house, const Tables& tables) {
  constexpr double kVolts = 120;
  for (const SupplySystem& system : tables.systems) {
    if (system.name != house.supply.system) continue;
    if (system.legs.size() == 2 && system.nominal_volts == kVolts) return system;
  }
  refuse(
      "[supply]",
      fmt::format("\"{}\" is no supply that these methods are given for here", house.supply.system),
      "they take \"120/240 split-phase\" and \"120/208 two-leg\"");
}

void calculate(DemandWork& work) {
  const std::string& name = work.method.name;
  DemandResult& result = work.result;
  if (name != "recorded") leave_out_noncoincident(result);
  if (name == "standard") standard_demand(work);
  if (name == "optional" || name == "existing") optional_demand(work);
  if (name == "recorded") recorded_demand(work);
  if (name == "canadian") canadian_demand(work);
  result.amps = result.load / result.line_volts;
  if (name == "recorded" || name == "canadian") return;
  neutral_demand(work);
  if (result.by_line.empty()) return;
  double legs[2] = {0, 0};
  for (const DemandByLine& row : result.by_line) {
    for (std::size_t leg = 0; leg < 2; ++leg) legs[leg] += row.legs[leg];
  }
  result.amps = std::max(legs[0], legs[1]);
}

}  // namespace

DemandResult demand(const House& house, const Tables& tables, const DemandOptions& options) {
  const DemandMethod& method = method_for(tables, options.method);
  const int edition = edition_for(method, options.edition);
  const SupplySystem& system = system_for(house, tables);
  DemandResult result;
  result.method = method.name;
  result.method_text = method.text;
  result.code = method.code;
  result.edition = edition;
  result.default_edition = !options.edition;
  result.unit = method.unit;
  result.line_volts = demand_line_volts(system);
  for (const Leg& leg : system.legs) result.legs.push_back(leg.name);
  result.items = demand_items(house, tables, system, options.added);
  DemandWork work{house, tables, system, method, edition, result};
  calculate(work);
  compare_demand(work);
  return result;
}

std::vector<std::string> demand_methods(const Tables& tables) {
  std::vector<std::string> names;
  for (const DemandMethod& method : tables.demand_methods) {
    if (!is_part(method)) names.push_back(method.name);
  }
  return names;
}

}  // namespace evenleg
