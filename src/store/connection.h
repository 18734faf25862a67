// Opening a house file: how, under which rules, and what to say when it fails.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

#include "evenleg/base/error.h"
#include "src/store/format.h"

namespace evenleg {

[[nodiscard]] Error file_error(const std::filesystem::path& path, std::string what,
                               std::string remedy);
// SQLite's code as a sentence for a person.
[[nodiscard]] Error file_error(const std::filesystem::path& path, const SQLite::Exception& failure);

// Runs `work`; a failure of SQLite in it becomes an Error(File) about `path`.
template <class Work>
auto in_file(const std::filesystem::path& path, Work work) {
  try {
    return work();
  } catch (const SQLite::Exception& failure) {
    throw file_error(path, failure);
  }
}

// Throws: Error(File) unless there is a readable, regular, not empty file.
void require_regular_file(const std::filesystem::path& path);

// Throws: Error(File) unless it starts as an SQLite database in rollback journal mode. (Opening one
// in WAL mode would leave other files beside it.) Requires: require_regular_file(path) passed.
void require_database(const std::filesystem::path& path);

// What a connection to any file that may come by mail must have before its schema is read: no schema
// of its own may run functions, its pages are distrusted, no value may be endless.
void distrust(SQLite::Database& file);

// A connection with this program's rules, whatever the file holds; creates no file.
// Throws: SQLite::Exception.
[[nodiscard]] SQLite::Database connect(const std::filesystem::path& path, int flags,
                                       const Format& format);

// A connection within a read transaction, which ends with it. Where a killed writer left its
// journal, that writer's change is undone first: the one case in which reading writes. Throws:
// SQLite::Exception.
[[nodiscard]] SQLite::Database open_to_read(const std::filesystem::path& path,
                                            const Format& format);

[[nodiscard]] int integer_of(SQLite::Database& file, const std::string& query);

}  // namespace evenleg
