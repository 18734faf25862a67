// Internal to the JSON objects of this module: how values stand in them, and the parts that more
// than one object has or that have a file of their own.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "evenleg/audit/audit.h"
#include "evenleg/report/audit_words.h"

namespace evenleg {

// null where it is not finite.
[[nodiscard]] inline nlohmann::ordered_json number(double value) {
  return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
}

[[nodiscard]] inline nlohmann::ordered_json number(const std::optional<double>& value) {
  return value ? number(*value) : nlohmann::ordered_json(nullptr);
}

template <class Unit>
[[nodiscard]] nlohmann::ordered_json number(const std::optional<Quantity<Unit>>& quantity) {
  return quantity ? number(quantity->si()) : nlohmann::ordered_json(nullptr);
}

template <class Quantity>
[[nodiscard]] nlohmann::ordered_json value_of(const std::optional<Extreme<Quantity>>& extreme) {
  return extreme ? number(extreme->value.si()) : nlohmann::ordered_json(nullptr);
}

template <class Quantity>
[[nodiscard]] nlohmann::ordered_json bound_of(const std::optional<Extreme<Quantity>>& extreme) {
  return extreme ? number(extreme->bound.si()) : nlohmann::ordered_json(nullptr);
}

// The names of the loads that are on in the state that gives it.
template <class Quantity>
[[nodiscard]] nlohmann::ordered_json on_of(const House& house,
                                           const std::optional<Extreme<Quantity>>& extreme) {
  return extreme ? nlohmann::ordered_json(load_names(house, extreme->on))
                 : nlohmann::ordered_json::array();
}

template <class Quantity>
[[nodiscard]] bool is_proven(const std::optional<Extreme<Quantity>>& extreme) {
  return extreme && extreme->proven;
}

// An entry of "loads" and of "outlets" where a neutral is open or has ohms added.
[[nodiscard]] nlohmann::ordered_json load_extremes_json(const House& house,
                                                        const LoadExtremes& row);
[[nodiscard]] nlohmann::ordered_json outlet_extremes_json(const House& house,
                                                          const OutletExtremes& row);

// Adds rms_amps, thd and harmonics to the entries of as_found's "legs" and "neutrals"; nothing
// where no load that is on has a spectrum.
void add_harmonics(const Audit& audit, nlohmann::ordered_json& as_found);

// Adds limit_ohms, limit_load, limit_volts, limit_on and limit_proven, each with `prefix` before
// it; null and empty where there is no limit.
void add_limit(const House& house, const std::optional<NeutralLimit>& limit,
               nlohmann::ordered_json& out, std::string_view prefix = "");

// The list under "motor_starts".
[[nodiscard]] nlohmann::ordered_json motor_starts_json(const House& house, const Audit& audit);

// The object as it is printed, ended by a line end.
[[nodiscard]] std::string text_of(const nlohmann::ordered_json& object);

}  // namespace evenleg
