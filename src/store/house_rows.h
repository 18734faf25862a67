// A whole house out of the tables and into them. Both judge every value by the field lists; both
// run within the caller's transaction.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <string>
#include <vector>

#include "evenleg/house/house.h"

namespace evenleg {

// What cannot be used ("panel \"Main\": spaces = 0, and it must be ..."); values that are at fault
// are left out of the house. Throws: SQLite::Exception where the file cannot be read.
struct ReadHouse {
  House house;
  std::vector<std::string> faults;
};
[[nodiscard]] ReadHouse read_house(const SQLite::Database& file);

// The values of a house that a file cannot hold: those that its reader would refuse (no NaN, no
// empty name). Empty: none.
[[nodiscard]] std::vector<std::string> value_faults(const House& house);

// Rewrites the tables of those kinds that differ between the two, and touches no other.
// Requires: value_faults(after) found nothing; the tables hold `before`, House{} for empty tables.
void write_difference(SQLite::Database& file, const House& before, const House& after);

}  // namespace evenleg
