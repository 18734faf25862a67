// A place's behaviour for programs (README, keys of `audit --json`).
#pragma once

#include <nlohmann/json.hpp>

#include "evenleg/audit/behaviour.h"

namespace evenleg {

[[nodiscard]] nlohmann::ordered_json behaviour_json(const House& house,
                                                    const BehaviourResult& result);
[[nodiscard]] nlohmann::ordered_json behaviour_json(const House& house,
                                                    const std::vector<StateBehaviour>& states);

}  // namespace evenleg
