// One neutral in depth for people, in plain text: what a joint in it may grow to before the first
// load leaves its limits, its legs, outlets and loads from sound to open, how real loads would
// behave, the limits with their sources, the cautions.
//
// At most 100 columns. Volts, amperes, watts, ohms, three significant digits (base/format.h).
#pragma once

#include <optional>
#include <string>

#include "evenleg/audit/neutral.h"

namespace evenleg {

struct NeutralTextOptions {
  bool all = false;                     // every point of the curve and of the loads' behaviour
  std::optional<std::string> scenario;  // the scenario that stood for the house as found
};

[[nodiscard]] std::string neutral_text(const House& house, const Tables& tables,
                                       const NeutralDepth& depth,
                                       const NeutralTextOptions& options = {});

}  // namespace evenleg
