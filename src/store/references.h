// Names in one table that lead to nothing in another.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <string>
#include <vector>

namespace evenleg {

// A sentence for each: those that foreign keys cover and those that may name one of two kinds.
[[nodiscard]] std::vector<std::string> broken_references(SQLite::Database& file);

}  // namespace evenleg
