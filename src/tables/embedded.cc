#include "src/tables/embedded.h"

#include <array>

namespace evenleg {

// One for each file, defined in the sources that the build makes from src/data/embed.cc.in.
extern const EmbeddedFile k_amselgrund_toml;
extern const EmbeddedFile k_conductors_toml;
extern const EmbeddedFile k_coopers_quay_apartment_toml;
extern const EmbeddedFile k_demand_canadian_toml;
extern const EmbeddedFile k_demand_existing_toml;
extern const EmbeddedFile k_demand_neutral_toml;
extern const EmbeddedFile k_demand_optional_toml;
extern const EmbeddedFile k_demand_recorded_toml;
extern const EmbeddedFile k_demand_service_toml;
extern const EmbeddedFile k_demand_standard_toml;
extern const EmbeddedFile k_fernhill_cottage_toml;
extern const EmbeddedFile k_flicker_toml;
extern const EmbeddedFile k_load_kinds_toml;
extern const EmbeddedFile k_motor_starting_toml;
extern const EmbeddedFile k_patterns_toml;
extern const EmbeddedFile k_rules_toml;
extern const EmbeddedFile k_severities_toml;
extern const EmbeddedFile k_spectra_toml;
extern const EmbeddedFile k_supply_systems_toml;
extern const EmbeddedFile k_voltage_drop_toml;
extern const EmbeddedFile k_voltage_limits_toml;

std::span<const EmbeddedFile> embedded_files() {
  static const std::array kFiles = {
      k_amselgrund_toml,       k_conductors_toml,     k_coopers_quay_apartment_toml,
      k_demand_canadian_toml, k_demand_existing_toml, k_demand_neutral_toml,
      k_demand_optional_toml, k_demand_recorded_toml,
      k_demand_service_toml, k_demand_standard_toml,
      k_fernhill_cottage_toml, k_flicker_toml,        k_load_kinds_toml,
      k_motor_starting_toml,   k_patterns_toml,       k_rules_toml,          k_severities_toml,     k_spectra_toml,
      k_supply_systems_toml,   k_voltage_drop_toml,   k_voltage_limits_toml,
  };
  return kFiles;
}

}  // namespace evenleg
