#include <fmt/format.h>

#include "src/store/cells.h"
#include "src/store/house_rows.h"
#include "src/store/kinds.h"

namespace evenleg {
namespace {

template <class Record>
std::string insert_of() {
  std::string columns = "position";
  std::string marks = "?";
  for (const Field<Record>& field : fields_of<Record>()) {
    if (is_list(field.type)) continue;
    columns += ", " + identifier(field.key);
    marks += ", ?";
  }
  return fmt::format("INSERT INTO {} ({}) VALUES ({})", identifier(table_of<Record>()), columns,
                     marks);
}

template <class Record>
std::vector<ListTable> list_tables_of() {
  std::vector<ListTable> tables;
  const std::string owner = table_of<Record>();
  for (const Field<Record>& field : fields_of<Record>()) {
    if (!is_list(field.type)) continue;
    tables.push_back({fmt::format("{}_{}", owner, field.key), owner, field.type});
  }
  return tables;
}

template <class Record>
void write_row(SQLite::Statement& insert, const Record& row, long long position) {
  insert.reset();
  int index = 1;
  insert.bind(index++, static_cast<int64_t>(position));
  for (const Field<Record>& field : fields_of<Record>()) {
    if (!is_list(field.type)) bind_cell(insert, index++, field.get(row));
  }
  insert.exec();
}

template <class Record>
void rewrite(SQLite::Database& file, const std::vector<Record>& rows) {
  const std::vector<ListTable> lists = list_tables_of<Record>();
  for (const ListTable& list : lists) file.exec("DELETE FROM " + identifier(list.table));
  file.exec("DELETE FROM " + identifier(table_of<Record>()));
  SQLite::Statement insert(file, insert_of<Record>());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto position = static_cast<long long>(i);
    write_row(insert, rows[i], position);
    auto list = lists.begin();
    for (const Field<Record>& field : fields_of<Record>()) {
      if (is_list(field.type)) write_list(file, *list++, position, field.get(rows[i]));
    }
  }
}

void rewrite_texts(SQLite::Database& file, std::string_view table, const FreeText& texts) {
  file.exec("DELETE FROM " + identifier(table));
  SQLite::Statement insert(
      file, fmt::format("INSERT INTO {} (key, value) VALUES (?, ?)", identifier(table)));
  for (const auto& [key, text] : texts) {
    insert.bind(1, key);
    insert.bind(2, text);
    insert.exec();
    insert.reset();
  }
}

template <class Record>
void add_faults(const House& house, std::vector<std::string>& faults) {
  const std::vector<Record> rows = rows_of<Record>(house);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    for (const Field<Record>& field : fields_of<Record>()) {
      if (const auto fault = fault_of(field, field.get(rows[i]))) {
        faults.push_back(fmt::format("{}: {}", row_text(rows[i], i), *fault));
      }
    }
  }
}

void add_text_faults(std::string_view table, const FreeText& texts,
                     std::vector<std::string>& faults) {
  for (const auto& [key, text] : texts) {
    if (const auto fault = free_text_fault(key, text)) {
      faults.push_back(fmt::format("{}: {}", table, *fault));
    }
  }
}

}  // namespace

std::vector<std::string> value_faults(const House& house) {
  std::vector<std::string> faults;
  add_text_faults("house", house.about, faults);
  add_text_faults("visit", house.visit, faults);
  for_each_kind(
      [&]<class Record>(std::type_identity<Record>) { add_faults<Record>(house, faults); });
  return faults;
}

void write_difference(SQLite::Database& file, const House& before, const House& after) {
  if (before.about != after.about) rewrite_texts(file, "house", after.about);
  if (before.visit != after.visit) rewrite_texts(file, "visit", after.visit);
  for_each_kind([&]<class Record>(std::type_identity<Record>) {
    const std::vector<Record> rows = rows_of<Record>(after);
    if (rows_of<Record>(before) != rows) rewrite(file, rows);
  });
}

}  // namespace evenleg
