#include <fmt/format.h>
#include <sqlite3.h>

#include "evenleg/store/store.h"
#include "src/store/connection.h"
#include "src/store/house_rows.h"
#include "src/store/references.h"
#include "src/store/versions.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

void add(std::vector<std::string>& all, const std::vector<std::string>& more) {
  all.insert(all.end(), more.begin(), more.end());
}

std::vector<std::string> damage_of(SQLite::Database& file) {
  std::vector<std::string> sentences;
  SQLite::Statement check(file, "PRAGMA integrity_check(20)");  // the first 20 tell enough
  while (check.executeStep()) {
    const std::string line = check.getColumn(0).getString();
    if (line != "ok") sentences.push_back("damage: " + line);
  }
  return sentences;
}

// References and values, in a file of the present version.
void add_content_faults(SQLite::Database& file, std::vector<std::string>& sentences) {
  add(sentences, broken_references(file));
  add(sentences, read_house(file).faults);
}

void check_open_file(const fs::path& path, SQLite::Database& file, const Format& format,
                     std::vector<std::string>& sentences) {
  const int version = require_known(path, file, format);
  add(sentences, damage_of(file));
  if (version == format.version()) return add_content_faults(file, sentences);
  SQLite::Database copy = migrated_copy(file, version, format);
  add_content_faults(copy, sentences);
}

bool is_damage(const SQLite::Exception& failure) {
  const int code = failure.getErrorCode();
  return code == SQLITE_CORRUPT || code == SQLITE_NOTADB || code == SQLITE_ERROR ||
         code == SQLITE_CONSTRAINT;
}

}  // namespace

std::vector<std::string> check_house_file(const fs::path& path, const Format& format) {
  require_regular_file(path);
  (void)is_house_file(path);  // throws when it cannot be read, which says nothing about its content
  std::vector<std::string> sentences;
  in_file(path, [&] {
    try {
      require_database(path);
      SQLite::Database file = open_to_read(path, format);
      check_open_file(path, file, format, sentences);
    } catch (const SQLite::Exception& failure) {
      if (!is_damage(failure)) throw;
      sentences.push_back(fmt::format("damage: {}", failure.what()));
    } catch (const Error& error) {
      for (const Fault& fault : error.faults()) {
        sentences.push_back(fault.what + "; " + fault.remedy);
      }
    }
  });
  return sentences;
}

std::vector<std::string> check_house_file(const fs::path& path) {
  return check_house_file(path, current_format());
}

}  // namespace evenleg
