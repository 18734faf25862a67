#include "src/store/references.h"

#include <fmt/format.h>

#include <array>
#include <string_view>

namespace evenleg {
namespace {

// What foreign keys cannot say: a name that may be of one of two kinds.
struct EitherReference {
  std::string_view table;
  std::string_view key;
  std::string_view one_kind;
  std::string_view other_kind;
};
constexpr std::array<EitherReference, 3> kEitherReferences{{
    {"outlet", "on", "circuit", "multiwire"},
    {"load", "at", "outlet", "circuit"},
    {"reading", "at", "panel", "outlet"},
}};

// The column behind a row of PRAGMA foreign_key_check.
std::string column_of(SQLite::Database& file, const std::string& table, int key) {
  SQLite::Statement find(file, "SELECT \"from\" FROM pragma_foreign_key_list(?) WHERE id = ?");
  find.bind(1, table);
  find.bind(2, key);
  return find.executeStep() ? find.getColumn(0).getString() : "?";
}

void add_foreign_keys(SQLite::Database& file, std::vector<std::string>& sentences) {
  constexpr int kKey = 3;  // the fourth column of the pragma: the number of the foreign key
  SQLite::Statement check(file, "PRAGMA foreign_key_check");
  while (check.executeStep()) {
    const std::string table = check.getColumn(0).getString();
    const std::string parent = check.getColumn(2).getString();
    const std::string column = column_of(file, table, check.getColumn(kKey).getInt());
    sentences.push_back(
        fmt::format("table {}: {} names a {} that is not there", table, column, parent));
  }
}

}  // namespace

std::vector<std::string> broken_references(SQLite::Database& file) {
  std::vector<std::string> sentences;
  add_foreign_keys(file, sentences);
  for (const EitherReference& reference : kEitherReferences) {
    SQLite::Statement lost(
        file,
        fmt::format("SELECT \"{0}\" FROM {1} WHERE \"{0}\" NOT IN "
                    "(SELECT name FROM {2} UNION ALL SELECT name FROM {3}) ORDER BY position",
                    reference.key, reference.table, reference.one_kind, reference.other_kind));
    while (lost.executeStep()) {
      sentences.push_back(fmt::format("table {}: {} = \"{}\", and no {} or {} has that name",
                                      reference.table, reference.key, lost.getColumn(0).getString(),
                                      reference.one_kind, reference.other_kind));
    }
  }
  return sentences;
}

}  // namespace evenleg
