// What the readings of a visit say, as one JSON object; its keys are described in the README.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "evenleg/report/diagnose_text.h"

namespace evenleg {

[[nodiscard]] nlohmann::ordered_json diagnose_json(const DiagnosisView& view);

}  // namespace evenleg
