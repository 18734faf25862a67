#include "src/store/connection.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <cerrno>
#include <cstring>
#include <utility>

#include "src/store/first_bytes.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

// "SQLite Database File Format", section 1.3: the header is 100 bytes; bytes 18 and 19 are the
// write and read versions, 1 for a rollback journal and 2 for WAL.
constexpr std::size_t kReadVersionAt = 19;
constexpr char kWal = 2;

// 500 circuits and 1,000 loads take 160 kB, a page of prose for each finding 4 MB more.
constexpr std::uintmax_t kMostMegabytes = 64;
constexpr std::uintmax_t kMostBytes = kMostMegabytes << 20U;

constexpr const char* kCheckPermissions = "check the permissions of the file and of its folder";
constexpr const char* kRestore = "restore a copy of it";

// The absolute form: SQLite takes "file:..." and ":memory:" for something else than a file's name.
std::string name_for_sqlite(const fs::path& path) { return fs::absolute(path).string(); }

}  // namespace

Error file_error(const fs::path& path, std::string what, std::string remedy) {
  return {ErrorKind::File, {path.string(), std::move(what), std::move(remedy)}};
}

Error file_error(const fs::path& path, const SQLite::Exception& failure) {
  const std::string detail = failure.what();
  if (failure.getExtendedErrorCode() == SQLITE_READONLY_ROLLBACK) {
    return file_error(path,
                      "holds a change that was cut off, and undoing it takes write permission",
                      kCheckPermissions);
  }
  switch (failure.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return file_error(path, "is in use by another program", "try again when that one is done");
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
      return file_error(path, "is damaged (" + detail + ")", kRestore);
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return file_error(path, "cannot be written", kCheckPermissions);
    case SQLITE_CANTOPEN:
      return file_error(path, "cannot be opened (" + detail + ")", kCheckPermissions);
    case SQLITE_FULL:
      return file_error(path, "cannot be written: the disk is full", "make room");
    case SQLITE_IOERR:
      return file_error(path, "cannot be read or written (" + detail + ")",
                        "check the disk and the permissions of the folder");
    case SQLITE_NOMEM:
      return file_error(path, "cannot be used: there is not enough memory",
                        "close other programs, then try again");
    case SQLITE_CONSTRAINT:
      return file_error(path, "cannot hold this house (" + detail + ")",
                        "correct the entry that it names");
    default:
      return file_error(path, "cannot be used (" + detail + ")", kRestore);
  }
}

void require_regular_file(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (path.empty() || status.type() == fs::file_type::not_found) {
    throw file_error(path, "no such file",
                     "check the name, or make it with \"evenleg new " + path.string() + "\"");
  }
  if (fs::is_directory(status))
    throw file_error(path, "is a folder, not a file", "name a file in it");
  if (status.type() == fs::file_type::none || status.type() == fs::file_type::unknown) {
    throw file_error(path, "cannot be reached: " + error.message(), kCheckPermissions);
  }
  if (!fs::is_regular_file(status)) {
    throw file_error(path, "is not a regular file", "name a house file");
  }
  if (fs::file_size(path, error) > kMostBytes) {
    throw file_error(path,
                     fmt::format("has more than {} MB, and no house needs that", kMostMegabytes),
                     "name a house file");
  }
  if (fs::file_size(path, error) == 0) {
    throw file_error(path, "is empty, so it is not a house file",
                     "restore a copy, or delete it and make a new one");
  }
}

void require_database(const fs::path& path) {
  const std::string head = first_bytes(path, kReadVersionAt + 1);
  if (!starts_as_database(head)) {
    throw file_error(path, "is not a house file",
                     "name one; a house description becomes one with \"evenleg new HOUSE.house "
                     "--from " +
                         path.filename().string() + "\"");
  }
  if (head.size() > kReadVersionAt && head[kReadVersionAt] == kWal) {
    throw file_error(path, "was set to write-ahead logging by another program",
                     "set it back there with PRAGMA journal_mode = DELETE");
  }
}

void distrust(SQLite::Database& file) {
  // Beyond the longest description; a formula in a schema could ask for a thousand million bytes.
  constexpr int kLongestValue = 16 << 20;
  sqlite3_limit(file.getHandle(), SQLITE_LIMIT_LENGTH, kLongestValue);
  sqlite3_db_config(file.getHandle(), SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  file.exec("PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON");
}

SQLite::Database connect(const fs::path& path, int flags, const Format& format) {
  SQLite::Database file(name_for_sqlite(path), flags, format.busy_milliseconds);
  distrust(file);
  file.exec("PRAGMA temp_store = MEMORY; PRAGMA foreign_keys = ON");
  if ((flags & SQLite::OPEN_READWRITE) == 0) return file;
  // A rollback journal, deleted at each commit: between changes the house is one single file that
  // can be copied or mailed. WAL would keep two more beside it, and needs write access even to
  // read. EXTRA is FULL (every commit is on the disk before it returns) and also flushes the folder
  // after the journal is deleted, so that a power cut cannot bring back a journal and undo the
  // change.
  file.exec(
      "PRAGMA journal_mode = DELETE; PRAGMA synchronous = EXTRA; PRAGMA locking_mode = NORMAL");
  return file;
}

SQLite::Database open_to_read(const fs::path& path, const Format& format) {
  const auto open = [&](int flags) {
    SQLite::Database file = connect(path, flags, format);
    file.exec("BEGIN; SELECT count(*) FROM sqlite_schema");  // the first read takes the lock
    return file;
  };
  try {
    return open(SQLite::OPEN_READONLY);
  } catch (const SQLite::Exception& failure) {
    if (failure.getExtendedErrorCode() != SQLITE_READONLY_ROLLBACK) throw;
  }
  // A journal with content and no writer: its writer was killed, and what the file itself holds may
  // be half of that change. SQLite undoes it under an exclusive lock, which needs write access; to
  // leave it would keep the house readable only together with its journal.
  return open(SQLite::OPEN_READWRITE);
}

int integer_of(SQLite::Database& file, const std::string& query) {
  return file.execAndGet(query).getInt();
}

}  // namespace evenleg
