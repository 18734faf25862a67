#include <fmt/format.h>
#include <sqlite3.h>

#include <optional>

#include "evenleg/store/store.h"
#include "src/store/applied_plans.h"
#include "src/store/connection.h"
#include "src/store/first_bytes.h"
#include "src/store/fresh_file.h"
#include "src/store/house_rows.h"
#include "src/store/references.h"
#include "src/store/versions.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

// A house has some forty tables and indexes, most with few rows: with SQLite's usual pages of 4096
// bytes an empty house would take 160 kB to mail, with these a quarter.
constexpr const char* kPageSize = "PRAGMA page_size = 1024";

// One line of many: the first, and how many more there are.
std::string first_of(const std::vector<std::string>& sentences) {
  const std::string& first = sentences.front();
  return sentences.size() == 1 ? first
                               : fmt::format("{} (and {} more)", first, sentences.size() - 1);
}

// The house in a file of the present version. Throws: Error(File) where a value cannot be used.
House usable_house(const fs::path& path, const SQLite::Database& file) {
  ReadHouse read = read_house(file);
  if (read.faults.empty()) return std::move(read.house);
  throw file_error(path, "is damaged: " + first_of(read.faults),
                   "restore a copy of it; \"evenleg check " + path.string() + "\" tells more");
}

void write_checked(const fs::path& path, SQLite::Database& file, const House& before,
                   const House& after) {
  const auto refuse = [&](const std::vector<std::string>& faults) {
    if (faults.empty()) return;
    throw file_error(path, "cannot hold this house: " + first_of(faults), "correct that entry");
  };
  refuse(value_faults(after));
  write_difference(file, before, after);
  refuse(broken_references(file));
}

// A name is free when nothing has it, not even a link that leads nowhere. A journal left beside a
// deleted house would be taken for the new one's, and spoil it.
void require_free(const fs::path& path) {
  if (!path.has_filename()) {
    throw file_error(path, "is not the name of a file", "give the house file a name");
  }
  std::error_code ignored;
  if (fs::exists(fs::symlink_status(path, ignored))) {
    throw file_error(path, "exists already", "choose another name, or move it away first");
  }
  for (const char* ending : {"-journal", "-wal"}) {
    fs::path left = path;
    left += ending;
    if (!fs::exists(fs::symlink_status(left, ignored))) continue;
    throw file_error(left, "was left by an earlier house file of this name",
                     "move it away first, or choose another name");
  }
}

// Before the transaction, for it cannot change within one: a migration may have to replace a table
// that others refer to. write_checked() checks all references anyway.
void suspend_foreign_keys_if_older(SQLite::Database& file, const Format& format) {
  if (integer_of(file, "PRAGMA user_version") < format.version()) {
    file.exec("PRAGMA foreign_keys = OFF");
  }
}

}  // namespace

void create_house_file(const fs::path& path, const House& house, const Format& format) {
  require_free(path);
  FreshFile fresh(path);
  in_file(path, [&] {
    SQLite::Database file = connect(fresh.path(), SQLite::OPEN_READWRITE, format);
    file.exec(kPageSize);
    SQLite::Transaction transaction(file, SQLite::TransactionBehavior::IMMEDIATE);
    file.exec(fmt::format("PRAGMA application_id = {}", kApplicationId));
    migrate(file, 0, format);
    write_checked(path, file, House{}, house);
    transaction.commit();
    // The longer definitions of migrated tables leave free pages, in which damage would not be
    // told.
    file.exec("PRAGMA temp_store = MEMORY; VACUUM");
  });
  if (!fresh.put_in_place(path)) {
    throw file_error(path, "exists already", "choose another name, or move it away first");
  }
}

House load_house(const fs::path& path, const Format& format) {
  require_regular_file(path);
  require_database(path);
  return in_file(path, [&] {
    SQLite::Database file = open_to_read(path, format);
    const int version = require_known(path, file, format);
    if (version == format.version()) return usable_house(path, file);
    return usable_house(path, migrated_copy(file, version, format));
  });
}

void change_house_and_plans(
    const fs::path& path,
    const std::function<void(House&, std::vector<AppliedPlan>& applied)>& change,
    const Format& format) {
  require_regular_file(path);
  require_database(path);
  in_file(path, [&] {
    SQLite::Database file = connect(path, SQLite::OPEN_READWRITE, format);
    // SQLite falls back to reading where it may not write, and would notice only at the first
    // write.
    if (sqlite3_db_readonly(file.getHandle(), "main") != 0) {
      throw file_error(path, "cannot be written",
                       "check the permissions of the file and of its folder");
    }
    suspend_foreign_keys_if_older(file, format);
    SQLite::Transaction transaction(file, SQLite::TransactionBehavior::IMMEDIATE);
    const int version = require_known(path, file, format);
    std::optional<fs::path> backup;
    try {
      if (version < format.version()) {
        backup = back_up(path, version, format);
        migrate(file, version, format);
      }
      const House before = usable_house(path, file);
      House after = before;
      const std::vector<AppliedPlan> applied_before = read_applied_plans(file);
      std::vector<AppliedPlan> applied = applied_before;
      change(after, applied);
      write_checked(path, file, before, after);
      if (applied != applied_before) write_applied_plans(file, applied);
    } catch (...) {
      std::error_code ignored;
      if (backup) fs::remove(*backup, ignored);  // nothing has changed
      throw;
    }
    transaction.commit();
  });
}

void change_house(const fs::path& path, const std::function<void(House&)>& change,
                  const Format& format) {
  change_house_and_plans(
      path, [&](House& house, std::vector<AppliedPlan>&) { change(house); }, format);
}

void create_house_file(const fs::path& path, const House& house) {
  create_house_file(path, house, current_format());
}

House load_house(const fs::path& path) { return load_house(path, current_format()); }

void change_house(const fs::path& path, const std::function<void(House&)>& change) {
  change_house(path, change, current_format());
}

void change_house_and_plans(
    const fs::path& path,
    const std::function<void(House&, std::vector<AppliedPlan>& applied)>& change) {
  change_house_and_plans(path, change, current_format());
}

std::uint32_t house_file_revision(const fs::path& path) {
  constexpr std::size_t kCounterAt = 24;
  constexpr std::size_t kCounterBytes = 4;  // most significant first
  const std::string head = first_bytes(path, kCounterAt + kCounterBytes);
  std::uint32_t count = 0;
  for (std::size_t i = kCounterAt; i < head.size(); ++i) {
    count = count << 8U | static_cast<unsigned char>(head[i]);
  }
  return count;
}

bool is_house_file(const fs::path& path) {
  std::error_code ignored;
  if (!fs::is_regular_file(path, ignored)) return false;
  constexpr std::size_t kMagicBytes = 16;
  return starts_as_database(first_bytes(path, kMagicBytes));
}

}  // namespace evenleg
