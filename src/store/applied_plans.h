// The plans that were written into a house, in and out of their table. Both run within the caller's
// transaction; what a row may be is held by the table's own checks (schema.cc).
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <vector>

#include "evenleg/store/store.h"

namespace evenleg {

// Oldest first. Throws: SQLite::Exception where the file cannot be read.
[[nodiscard]] std::vector<AppliedPlan> read_applied_plans(const SQLite::Database& file);

// Rewrites the table.
void write_applied_plans(SQLite::Database& file, const std::vector<AppliedPlan>& plans);

}  // namespace evenleg
