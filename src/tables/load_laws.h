// The `[laws.NAME]` tables of load-kinds.toml: how current follows volts.
#pragma once

#include <vector>

#include "evenleg/tables/tables.h"
#include "src/tables/data_file.h"
#include "src/tables/references.h"

namespace evenleg {

// None where the file has no laws.
[[nodiscard]] std::vector<LoadLaw> read_load_laws(Row& root, const References& references);

}  // namespace evenleg
