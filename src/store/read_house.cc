#include <fmt/format.h>

#include "src/store/cells.h"
#include "src/store/house_rows.h"
#include "src/store/kinds.h"

namespace evenleg {
namespace {

using Lists = std::map<std::string_view, std::map<long long, Value>>;

template <class Record>
Lists lists_of(const SQLite::Database& file) {
  Lists lists;
  for (const Field<Record>& field : fields_of<Record>()) {
    if (!is_list(field.type)) continue;
    const std::string table = table_of<Record>();
    lists[field.key] =
        read_lists(file, {fmt::format("{}_{}", table, field.key), table, field.type});
  }
  return lists;
}

template <class Record>
std::string select_of() {
  std::string columns = "position";
  for (const Field<Record>& field : fields_of<Record>()) {
    if (!is_list(field.type)) columns += ", " + identifier(field.key);
  }
  return fmt::format("SELECT {} FROM {} ORDER BY position", columns,
                     identifier(table_of<Record>()));
}

template <class Record>
void read_rows(const SQLite::Database& file, ReadHouse& result) {
  Lists lists = lists_of<Record>(file);
  std::vector<Record> rows;
  SQLite::Statement select(file, select_of<Record>());
  while (select.executeStep()) {
    Record row;
    const long long position = select.getColumn(0).getInt64();
    int column = 1;
    for (const Field<Record>& field : fields_of<Record>()) {
      Value value;
      if (!is_list(field.type)) {
        value = value_of(select.getColumn(column++), field.type);
      } else if (auto node = lists[field.key].extract(position)) {
        value = std::move(node.mapped());
      }
      if (const auto fault = fault_of(field, value)) {
        result.faults.push_back(fmt::format("{}: {}", row_text(row, rows.size()), *fault));
      } else {
        field.set(row, value);
      }
    }
    rows.push_back(std::move(row));
  }
  for (const auto& [key, orphans] : lists) {
    if (orphans.empty()) continue;
    result.faults.push_back(fmt::format("{} of a {} that is not there", key, kind_name<Record>));
  }
  if (kIsSingle<Record> && rows.size() > 1) {
    result.faults.push_back(
        fmt::format("{} rows of {}, and there must be one", rows.size(), kind_name<Record>));
  }
  if (std::is_same_v<Record, Supply> && rows.empty()) {
    result.faults.push_back("the supply is missing");
  }
  put_rows(result.house, std::move(rows));
}

FreeText read_texts(const SQLite::Database& file, std::string_view table,
                    std::vector<std::string>& faults) {
  FreeText texts;
  SQLite::Statement select(file, fmt::format("SELECT key, value FROM {}", identifier(table)));
  while (select.executeStep()) {
    const std::string key = select.getColumn(0).getString();
    std::string text = select.getColumn(1).getString();
    if (const auto fault = free_text_fault(key, text)) {
      faults.push_back(fmt::format("{}: {}", table, *fault));
    } else {
      texts[key] = std::move(text);
    }
  }
  return texts;
}

}  // namespace

ReadHouse read_house(const SQLite::Database& file) {
  ReadHouse result;
  result.house.about = read_texts(file, "house", result.faults);
  result.house.visit = read_texts(file, "visit", result.faults);
  for_each_kind([&]<class Record>(std::type_identity<Record>) { read_rows<Record>(file, result); });
  return result;
}

}  // namespace evenleg
