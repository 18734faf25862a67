// One state of the house as someone watches it, as JSON; what may happen after a neutral has
// opened; a plan that is tried.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "src/page/open_house.h"

namespace evenleg {

// All throw Error(Request) for a request that asks for what there is not, and while the house is
// unfinished.
[[nodiscard]] nlohmann::ordered_json state_answer(const Moment& moment, const OpenHouse& open,
                                                  const std::string& body);
[[nodiscard]] nlohmann::ordered_json behaviour_answer(const Moment& moment, const OpenHouse& open,
                                                      const std::string& body);
[[nodiscard]] nlohmann::ordered_json try_answer(const Moment& moment, const OpenHouse& open,
                                                const std::string& body);

// Throws: Error(Request) that says what is missing.
void require_finished(const Moment& moment);

}  // namespace evenleg
