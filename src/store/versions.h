// Whose file it is, of which version, and how to bring it to the present one.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

#include "src/store/connection.h"

namespace evenleg {

// The file's version. Throws: Error(File) when it belongs to another program, is of a newer version
// or lacks one of our tables.
[[nodiscard]] int require_known(const std::filesystem::path& path, SQLite::Database& file,
                                const Format& format);

// Runs the migrations after `version` and sets PRAGMA user_version.
// Requires: a transaction, and foreign keys off where tables of earlier versions have rows (a
// migration may have to replace a table that others refer to).
void migrate(SQLite::Database& file, int version, const Format& format);

// A copy in memory at the present version; the file stays as it is.
[[nodiscard]] SQLite::Database migrated_copy(SQLite::Database& file, int version,
                                             const Format& format);

// A copy of the file beside it, "NAME.v1-backup" (or "NAME.v1-backup-2" ... where that is taken);
// its path. Throws: Error(File), SQLite::Exception.
[[nodiscard]] std::filesystem::path back_up(const std::filesystem::path& path, int version,
                                            const Format& format);

}  // namespace evenleg
