// One reader for each data file: fills its part of the tables from the file's root table. Each
// reads
// `[source]` first; a fault is kept by the row that it is in.
#pragma once

#include "evenleg/tables/tables.h"
#include "src/tables/data_file.h"

namespace evenleg {

void read_conductors(Row& root, Tables& tables);
void read_demand_method(Row& root, Tables& tables);  // each of data/demand-*.toml
void read_flicker(Row& root, Tables& tables);
void read_load_kinds(Row& root, Tables& tables);
void read_motor_starting(Row& root, Tables& tables);
void read_patterns(Row& root, Tables& tables);
void read_rules(Row& root, Tables& tables);
void read_severities(Row& root, Tables& tables);
void read_spectra(Row& root, Tables& tables);
void read_supply_systems(Row& root, Tables& tables);
void read_voltage_drop(Row& root, Tables& tables);
void read_voltage_limits(Row& root, Tables& tables);

}  // namespace evenleg
