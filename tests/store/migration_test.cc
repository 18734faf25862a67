// Files of an earlier version, with a second migration that exists only here.
#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>

#include <array>
#include <set>
#include <stdexcept>

#include "evenleg/store/store.h"
#include "src/store/format.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

// The two hard things that a migration may do: add a column, and replace a table that others refer
// to (SQLite can alter little else). It also changes a value, to show that it ran.
constexpr std::string_view kSecond = R"sql(
ALTER TABLE load ADD COLUMN colour TEXT NOT NULL DEFAULT 'none';
CREATE TABLE new_scenario (
  position INTEGER PRIMARY KEY CHECK (position >= 0),
  name TEXT NOT NULL UNIQUE CHECK (name <> '' AND name <> 'forbidden')
) STRICT;
INSERT INTO new_scenario SELECT position, name FROM scenario;
DROP TABLE scenario;
ALTER TABLE new_scenario RENAME TO scenario;
UPDATE finding SET observation = observation || ' (migrated)';
)sql";

struct TwoVersions {
  std::array<std::string_view, 2> steps{migrations()[0], kSecond};
  Format format{steps};
};

House migrated_house() {
  House house = every_key_house();
  for (SiteFinding& finding : house.findings) finding.observation += " (migrated)";
  return house;
}

int version_of(const fs::path& path) {
  return SQLite::Database(path.string()).execAndGet("PRAGMA user_version").getInt();
}

TEST_CASE("store: a new file runs all migrations") {
  const Folder folder;
  const TwoVersions two;
  create_house_file(folder / "a.house", every_key_house(), two.format);
  CHECK(version_of(folder / "a.house") == 2);
  CHECK(load_house(folder / "a.house", two.format) == every_key_house());
  CHECK(check_house_file(folder / "a.house", two.format).empty());
}

TEST_CASE("store: an older file is read as if it were migrated, and stays as it is") {
  const Folder folder;
  const TwoVersions two;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  CHECK(load_house(path, two.format) == migrated_house());
  CHECK(check_house_file(path, two.format).empty());
  CHECK(bytes_of(path) == before);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: changing an older file migrates it and keeps a copy of what it was") {
  const Folder folder;
  const TwoVersions two;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  change_house(
      path, [](House& house) { house.about["name"] = "New"; }, two.format);
  House expected = migrated_house();
  expected.about["name"] = "New";
  CHECK(version_of(path) == 2);
  CHECK(load_house(path, two.format) == expected);
  CHECK(check_house_file(path, two.format).empty());
  CHECK(folder.names() == std::set<std::string>{"a.house", "a.house.v1-backup"});
  CHECK(load_house(folder / "a.house.v1-backup") == every_key_house());
  CHECK(check_house_file(folder / "a.house.v1-backup").empty());
  // The next change has nothing to migrate.
  change_house(
      path, [](House& house) { house.about["name"] = "Newer"; }, two.format);
  CHECK(folder.names() == std::set<std::string>{"a.house", "a.house.v1-backup"});
}

TEST_CASE("store: a backup never overwrites an earlier one") {
  const Folder folder;
  const TwoVersions two;
  create_house_file(folder / "a.house", every_key_house());
  put_bytes(folder / "a.house.v1-backup", "earlier");
  change_house(
      folder / "a.house", [](House&) {}, two.format);
  CHECK(bytes_of(folder / "a.house.v1-backup") == "earlier");
  CHECK(load_house(folder / "a.house.v1-backup-2") == every_key_house());
}

TEST_CASE("store: a change that fails takes its migration and its backup back") {
  const Folder folder;
  const TwoVersions two;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  CHECK_THROWS_AS(change_house(
                      path, [](House&) { throw std::logic_error("no"); }, two.format),
                  std::logic_error);
  CHECK(refusal(path, [&] {
          change_house(
              path, [](House& h) { h.scenarios[0].name = "forbidden"; }, two.format);
        }).starts_with("cannot hold this house (CHECK constraint failed"));
  CHECK(refusal(path, [&] {
          change_house(
              path, [](House& h) { h.loads[0].at = "Attic"; }, two.format);
        }).starts_with("cannot hold this house: table load: at = \"Attic\""));
  CHECK(bytes_of(path) == before);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: an older program refuses the migrated file") {
  const Folder folder;
  const TwoVersions two;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house(), two.format);
  const std::string line =
      "was written by a newer evenleg (file version 2, and this program knows versions up to 1); "
      "update evenleg";
  CHECK(refusal(path, [&] { (void)load_house(path); }) == line);
  CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) == line);
}

}  // namespace
}  // namespace evenleg
