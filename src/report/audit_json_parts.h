// Internal to report/audit_json.h: the parts of the object that have a file of their own.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

#include "evenleg/audit/audit.h"

namespace evenleg {

// Adds rms_amps, thd and harmonics to the entries of as_found's "legs" and "neutrals"; nothing
// where no load that is on has a spectrum.
void add_harmonics(const Audit& audit, nlohmann::ordered_json& as_found);

// Adds limit_ohms, limit_load, limit_volts, limit_on and limit_proven, each with `prefix` before
// it; null and empty where there is no limit.
void add_limit(const House& house, const std::optional<NeutralLimit>& limit,
               nlohmann::ordered_json& out, std::string_view prefix = "");

// The list under "motor_starts".
[[nodiscard]] nlohmann::ordered_json motor_starts_json(const House& house, const Audit& audit);

}  // namespace evenleg
