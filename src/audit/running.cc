#include "src/audit/running.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"

namespace evenleg {

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

}  // namespace evenleg
