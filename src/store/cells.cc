#include "src/store/cells.h"

#include <fmt/format.h>

#include <limits>

#include "src/store/kinds.h"

namespace evenleg {
namespace {

// Appends one row of a list table to a list. A cell of another type than the list's is left to
// SQLite's conversion: STRICT tables refuse it, so it takes a damaged file to get here.
void append(Value& value, FieldType type, const SQLite::Column& item) {
  const auto list = [&]<class List>(List empty) -> List& {
    if (!std::holds_alternative<List>(value)) value = std::move(empty);
    return std::get<List>(value);
  };
  switch (type) {
    case FieldType::Numbers:
      list(std::vector<double>{}).push_back(item.getDouble());
      return;
    case FieldType::WholeList: {
      // Out of range becomes the limit, which no field accepts, not a number that looks right.
      constexpr auto kMost = std::numeric_limits<int>::max();
      const auto whole = item.getInt64();
      const bool fits = whole >= 0 && whole <= kMost;
      list(std::vector<int>{}).push_back(fits ? static_cast<int>(whole) : kMost);
      return;
    }
    default:
      list(std::vector<std::string>{}).push_back(item.getString());
      return;
  }
}

// The column with the number of each item.
std::string_view number_column(FieldType type) {
  return type == FieldType::Spectrum ? "number" : "share";
}

std::map<long long, Value> read_shares(const SQLite::Database& file, const ListTable& list) {
  SQLite::Statement rows(file,
                         fmt::format("SELECT {}, item, {} FROM {}", identifier(list.owner),
                                     number_column(list.type), identifier(list.table)));
  std::map<long long, Value> found;
  while (rows.executeStep()) {
    Value& value = found[rows.getColumn(0).getInt64()];
    if (std::holds_alternative<std::monostate>(value)) value = std::map<std::string, double>{};
    auto& shares = std::get<std::map<std::string, double>>(value);
    shares[rows.getColumn(1).getString()] = rows.getColumn(2).getDouble();
  }
  return found;
}

void write_shares(SQLite::Database& file, const ListTable& list, long long owner,
                  const std::map<std::string, double>& shares) {
  SQLite::Statement insert(
      file, fmt::format("INSERT INTO {} ({}, item, {}) VALUES (?, ?, ?)", identifier(list.table),
                        identifier(list.owner), number_column(list.type)));
  constexpr int kShare = 3;  // the third "?"
  for (const auto& [name, share] : shares) {
    insert.bind(1, static_cast<int64_t>(owner));
    insert.bind(2, name);
    insert.bind(kShare, share);
    insert.exec();
    insert.reset();
  }
}

}  // namespace

std::string identifier(std::string_view name) { return fmt::format("\"{}\"", name); }

Value value_of(const SQLite::Column& cell, FieldType type) {
  if (cell.isNull()) return {};
  if (cell.isFloat()) return cell.getDouble();
  if (!cell.isInteger()) return cell.getString();
  const long long whole = cell.getInt64();
  if (type == FieldType::Flag && (whole == 0 || whole == 1)) return whole == 1;
  return whole;
}

void bind_cell(SQLite::Statement& statement, int index, const Value& value) {
  if (const auto* flag = std::get_if<bool>(&value)) {
    statement.bind(index, *flag ? 1 : 0);
  } else if (const auto* whole = std::get_if<long long>(&value)) {
    statement.bind(index, static_cast<int64_t>(*whole));
  } else if (const auto* number = std::get_if<double>(&value)) {
    statement.bind(index, *number);
  } else if (const auto* text = std::get_if<std::string>(&value)) {
    statement.bind(index, *text);
  } else {
    statement.bind(index);  // NULL
  }
}

std::map<long long, Value> read_lists(const SQLite::Database& file, const ListTable& list) {
  if (is_table(list.type)) return read_shares(file, list);
  SQLite::Statement rows(file, fmt::format("SELECT {0}, item FROM {1} ORDER BY {0}, position",
                                           identifier(list.owner), identifier(list.table)));
  std::map<long long, Value> found;
  while (rows.executeStep()) {
    append(found[rows.getColumn(0).getInt64()], list.type, rows.getColumn(1));
  }
  return found;
}

void write_list(SQLite::Database& file, const ListTable& list, long long owner,
                const Value& value) {
  if (std::holds_alternative<std::monostate>(value)) return;
  if (const auto* shares = std::get_if<std::map<std::string, double>>(&value)) {
    return write_shares(file, list, owner, *shares);
  }
  SQLite::Statement insert(file, fmt::format("INSERT INTO {} ({}, position, item) VALUES (?, ?, ?)",
                                             identifier(list.table), identifier(list.owner)));
  const auto insert_all = [&](const auto& items) {
    constexpr int kItem = 3;  // the third "?"
    for (std::size_t i = 0; i < items.size(); ++i) {
      insert.bind(1, static_cast<int64_t>(owner));
      insert.bind(2, static_cast<int64_t>(i));
      insert.bind(kItem, items[i]);
      insert.exec();
      insert.reset();
    }
  };
  if (const auto* numbers = std::get_if<std::vector<double>>(&value)) insert_all(*numbers);
  if (const auto* wholes = std::get_if<std::vector<int>>(&value)) insert_all(*wholes);
  if (const auto* names = std::get_if<std::vector<std::string>>(&value)) insert_all(*names);
}

}  // namespace evenleg
