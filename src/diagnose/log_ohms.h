// Resistances from changes between samples: the equations of log.h, with Huber weights.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "evenleg/diagnose/log.h"

namespace evenleg {

struct LogChange {
  std::array<float, 2> volts{};
  std::array<float, 2> amps{};
};

// `cosine`: of the angle between the legs. Nothing with too few changes or where they do not tell
// the conductors apart.
[[nodiscard]] std::optional<OhmsEstimate> ohms_from_changes(const std::vector<LogChange>& changes,
                                                            double cosine);

}  // namespace evenleg
