// Internal to audit/audit.h: what each load withstands, and which would be hurt first.
#pragma once

#include "evenleg/audit/audit.h"

namespace evenleg {

// Steady volts that a load withstands: its own `max_volts`, else its kind's figure on its nameplate.
[[nodiscard]] Volts withstood_volts(const Load& load, const LoadModel& model,
                                    const Tables& tables);

// One row for each load that some open neutral reaches, by volts over what it withstands.
[[nodiscard]] std::vector<RankRow> rank(const House& house, const Model& model,
                                        const Tables& tables,
                                        const std::vector<OpenNeutral>& open_neutral);

}  // namespace evenleg
