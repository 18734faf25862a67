// A number as a person types it off an instrument: "118.9", "118,9 V", "12A", "350 mV".
//
// A display that changes its range changes its unit, so a unit that is typed counts: 350 mV is
// 0.35 V, and amperes where volts are asked for are no answer.
#pragma once

#include <optional>
#include <string_view>

namespace evenleg {

enum class TypedUnit { Volts, Amps, Percent };

// In V, A or %, 0 or more; nothing for what is no such quantity. Without a unit the one asked for.
[[nodiscard]] std::optional<double> quantity_typed(std::string_view text, TypedUnit unit);

}  // namespace evenleg
