#include "src/store/versions.h"

#include <SQLiteCpp/Backup.h>
#include <fmt/format.h>

#include "src/store/fresh_file.h"
#include "src/store/kinds.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

bool has_table(SQLite::Database& file, const std::string& table) {
  SQLite::Statement found(file, "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?");
  found.bind(1, table);
  return found.executeStep();
}

constexpr const char* kRestore = "restore a copy of it";

// A view, a trigger, a table that a module makes up or a column that a formula fills could, in a
// file that came by mail, make reading endless or change what is written; no version has them.
void require_nothing_computed(const fs::path& path, SQLite::Database& file) {
  const auto refuse_any = [&](const char* query, const char* what) {
    if (integer_of(file, query) > 0) throw file_error(path, what, kRestore);
  };
  refuse_any("SELECT count(*) FROM sqlite_schema WHERE type IN ('view', 'trigger')",
             "holds views or triggers, and a house file has none");
  refuse_any("SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND rootpage = 0",
             "holds virtual tables, and a house file has none");
  refuse_any(
      "SELECT count(*) FROM sqlite_schema AS s, pragma_table_xinfo(s.name) AS c "
      "WHERE s.type = 'table' AND c.hidden <> 0",
      "holds computed columns, and a house file has none");
}

void require_tables(const fs::path& path, SQLite::Database& file) {
  const auto require = [&](const std::string& table) {
    if (!has_table(file, table)) {
      throw file_error(path, fmt::format("is damaged: its table {} is missing", table), kRestore);
    }
  };
  require("house");
  require("visit");
  require("applied_plan");
  for_each_kind([&]<class Record>(std::type_identity<Record>) {
    require(table_of<Record>());
    for (const Field<Record>& field : fields_of<Record>()) {
      if (is_list(field.type)) require(fmt::format("{}_{}", table_of<Record>(), field.key));
    }
  });
}

}  // namespace

int require_known(const fs::path& path, SQLite::Database& file, const Format& format) {
  if (integer_of(file, "PRAGMA application_id") != kApplicationId) {
    throw file_error(path, "is an SQLite database of another program, not a house file",
                     "name a house file");
  }
  const int version = integer_of(file, "PRAGMA user_version");
  if (version > format.version()) {
    throw file_error(
        path,
        fmt::format("was written by a newer evenleg (file version {}, and this program "
                    "knows versions up to {})",
                    version, format.version()),
        "update evenleg");
  }
  if (version < 1) {
    throw file_error(path, fmt::format("is damaged: it says that its version is {}", version),
                     "restore a copy of it");
  }
  require_nothing_computed(path, file);
  if (version == format.version()) require_tables(path, file);
  return version;
}

void migrate(SQLite::Database& file, int version, const Format& format) {
  for (const std::string_view step : format.migrations.subspan(static_cast<std::size_t>(version))) {
    file.exec(std::string(step));
  }
  file.exec(fmt::format("PRAGMA user_version = {}", format.version()));
}

SQLite::Database migrated_copy(SQLite::Database& file, int version, const Format& format) {
  SQLite::Database copy(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_MEMORY);
  SQLite::Backup(copy, file).executeStep();
  distrust(copy);
  copy.exec("PRAGMA foreign_keys = OFF");
  SQLite::Transaction transaction(copy);
  migrate(copy, version, format);
  transaction.commit();
  return copy;
}

fs::path back_up(const fs::path& path, int version, const Format& format) {
  FreshFile fresh(path);
  {
    // A connection of its own: the one that has the change under way may read past its own writes.
    SQLite::Database from = connect(path, SQLite::OPEN_READONLY, format);
    SQLite::Database to = connect(fresh.path(), SQLite::OPEN_READWRITE, format);
    SQLite::Backup(to, from).executeStep();
  }
  constexpr int kMostBackups = 1000;  // far more than there are versions; ends the search
  fs::path target = path;
  target += fmt::format(".v{}-backup", version);
  const fs::path first = target;
  for (int n = 2; n < kMostBackups; ++n) {
    if (fresh.put_in_place(target)) return target;
    target = first;
    target += fmt::format("-{}", n);
  }
  throw file_error(first, "exists, and so do its followers", "move the old backups away");
}

}  // namespace evenleg
