#include "src/store/applied_plans.h"

namespace evenleg {
namespace {

// Columns of the table after `plan` and `position`, which give the order alone.
enum Column { kPlan, kKind, kName, kKey, kBefore, kAfter };

std::optional<std::string> text_or_absent(const SQLite::Column& cell) {
  if (cell.isNull()) return std::nullopt;
  return cell.getString();
}

void bind_text(SQLite::Statement& statement, int index, const std::optional<std::string>& text) {
  if (text) {
    statement.bind(index, *text);
  } else {
    statement.bind(index);
  }
}

void insert_row(SQLite::Statement& insert, std::size_t plan, std::size_t position,
                const KeyChange& change) {
  insert.reset();
  int index = 1;
  insert.bind(index++, static_cast<int64_t>(plan));
  insert.bind(index++, static_cast<int64_t>(position));
  insert.bind(index++, change.kind);
  insert.bind(index++, change.name);
  insert.bind(index++, change.key);
  bind_text(insert, index++, change.before);
  bind_text(insert, index, change.after);
  insert.exec();
}

}  // namespace

std::vector<AppliedPlan> read_applied_plans(const SQLite::Database& file) {
  std::vector<AppliedPlan> plans;
  int64_t last = -1;
  SQLite::Statement select(file,
                           "SELECT plan, kind, name, key, before, after FROM applied_plan "
                           "ORDER BY plan, position");
  while (select.executeStep()) {
    const int64_t plan = select.getColumn(kPlan).getInt64();
    if (plan != last) plans.emplace_back();
    last = plan;
    plans.back().push_back({select.getColumn(kKind).getString(),
                            select.getColumn(kName).getString(), select.getColumn(kKey).getString(),
                            text_or_absent(select.getColumn(kBefore)),
                            text_or_absent(select.getColumn(kAfter))});
  }
  return plans;
}

void write_applied_plans(SQLite::Database& file, const std::vector<AppliedPlan>& plans) {
  file.exec("DELETE FROM applied_plan");
  SQLite::Statement insert(file, "INSERT INTO applied_plan VALUES (?, ?, ?, ?, ?, ?, ?)");
  for (std::size_t plan = 0; plan < plans.size(); ++plan) {
    for (std::size_t i = 0; i < plans[plan].size(); ++i)
      insert_row(insert, plan, i, plans[plan][i]);
  }
}

}  // namespace evenleg
