// Single values between SQLite and the field lists, by the type of the field. Nothing here knows a
// kind; what a value may be is decided by fault_of.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <map>
#include <string>
#include <string_view>

#include "evenleg/house/fields.h"

namespace evenleg {

// An identifier in SQL. Requires: one of our own names, so without quotes in it ("on", "where").
[[nodiscard]] std::string identifier(std::string_view name);

// Absent for NULL. A value of a type that the field does not have is kept as it is for fault_of.
[[nodiscard]] Value value_of(const SQLite::Column& cell, FieldType type);

// Requires: a value that is no list.
void bind_cell(SQLite::Statement& statement, int index, const Value& value);

// The lists of one key: those of the rows, by the position of their row.
struct ListTable {
  std::string table;  // "circuit_legs"
  std::string owner;  // "circuit": its column with the row's position
  FieldType type = FieldType::TextList;
};

[[nodiscard]] std::map<long long, Value> read_lists(const SQLite::Database& file,
                                                    const ListTable& list);
// Requires: a list of the table's type, or absent.
void write_list(SQLite::Database& file, const ListTable& list, long long owner, const Value& value);

}  // namespace evenleg
