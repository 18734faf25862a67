// Files of an earlier version: the released migrations, and a further one that exists only here.
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
constexpr std::string_view kNext = R"sql(
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

struct NextVersion {
  std::array<std::string_view, 6> steps{migrations()[0], migrations()[1], migrations()[2],
                                       migrations()[3], migrations()[4], kNext};
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
  const NextVersion next;
  create_house_file(folder / "a.house", every_key_house(), next.format);
  CHECK(version_of(folder / "a.house") == 6);
  CHECK(load_house(folder / "a.house", next.format) == every_key_house());
  CHECK(check_house_file(folder / "a.house", next.format).empty());
}

TEST_CASE("store: an older file is read as if it were migrated, and stays as it is") {
  const Folder folder;
  const NextVersion next;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  CHECK(load_house(path, next.format) == migrated_house());
  CHECK(check_house_file(path, next.format).empty());
  CHECK(bytes_of(path) == before);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: changing an older file migrates it and keeps a copy of what it was") {
  const Folder folder;
  const NextVersion next;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  change_house(
      path, [](House& house) { house.about["name"] = "New"; }, next.format);
  House expected = migrated_house();
  expected.about["name"] = "New";
  CHECK(version_of(path) == 6);
  CHECK(load_house(path, next.format) == expected);
  CHECK(check_house_file(path, next.format).empty());
  CHECK(folder.names() == std::set<std::string>{"a.house", "a.house.v5-backup"});
  CHECK(load_house(folder / "a.house.v5-backup") == every_key_house());
  CHECK(check_house_file(folder / "a.house.v5-backup").empty());
  // The next change has nothing to migrate.
  change_house(
      path, [](House& house) { house.about["name"] = "Newer"; }, next.format);
  CHECK(folder.names() == std::set<std::string>{"a.house", "a.house.v5-backup"});
}

// As version 1 wrote it: one load, by the columns of that time.
void write_version_1(const fs::path& path) {
  run_sql(path, std::string(migrations()[0]) + R"sql(
INSERT INTO house VALUES ('name', 'Old');
INSERT INTO supply VALUES (0, '120/240 split-phase');
INSERT INTO panel (position, name, spaces) VALUES (0, 'Main', 4);
INSERT INTO circuit (position, name, space, poles, protection, locked)
  VALUES (0, 'Well', 1, 1, 'standard', 0);
INSERT INTO load (position, name, at, kind, amps, leading, "on", switching)
  VALUES (0, 'Pump', 'Well', 'motor', 9.8, 0, 1, 'free');
PRAGMA user_version = 1;
)sql" + "PRAGMA application_id = " + std::to_string(kApplicationId));
}

TEST_CASE("store: a file of version 1 gains the keys of later versions, all of them absent") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  write_version_1(path);
  House old;
  old.about = {{"name", "Old"}};
  old.supply.system = "120/240 split-phase";
  old.panels.resize(1);
  old.panels[0].name = "Main";
  old.panels[0].spaces = 4;
  old.circuits.resize(1);
  old.circuits[0].name = "Well";
  old.circuits[0].space = 1;
  old.loads.resize(1);
  old.loads[0].name = "Pump";
  old.loads[0].at = "Well";
  old.loads[0].kind = "motor";
  old.loads[0].amps = 9.8;
  CHECK(load_house(path) == old);
  CHECK(version_of(path) == 1);
  change_house(path, [](House& house) {
    house.loads[0].code_letter = "G";
    house.loads[0].horsepower = 0.5;
    house.loads[0].spectrum = {{"3", 9.7}};
    house.loads[0].demand = "motor";
    house.circuits[0].measured_amps = 9.1;
    house.dwelling = Dwelling{};
  });
  old.loads[0].code_letter = "G";
  old.loads[0].horsepower = 0.5;
  old.loads[0].spectrum = {{"3", 9.7}};
  old.loads[0].demand = "motor";
  old.circuits[0].measured_amps = 9.1;
  old.dwelling = Dwelling{};
  CHECK(load_house(path) == old);
  CHECK(check_house_file(path).empty());
  CHECK(version_of(path) == 5);
  CHECK(folder.names() == std::set<std::string>{"a.house", "a.house.v1-backup"});
}

TEST_CASE("store: a backup never overwrites an earlier one") {
  const Folder folder;
  const NextVersion next;
  create_house_file(folder / "a.house", every_key_house());
  put_bytes(folder / "a.house.v5-backup", "earlier");
  change_house(
      folder / "a.house", [](House&) {}, next.format);
  CHECK(bytes_of(folder / "a.house.v5-backup") == "earlier");
  CHECK(load_house(folder / "a.house.v5-backup-2") == every_key_house());
}

TEST_CASE("store: a change that fails takes its migration and its backup back") {
  const Folder folder;
  const NextVersion next;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  CHECK_THROWS_AS(change_house(
                      path, [](House&) { throw std::logic_error("no"); }, next.format),
                  std::logic_error);
  CHECK(refusal(path, [&] {
          change_house(
              path, [](House& h) { h.scenarios[0].name = "forbidden"; }, next.format);
        }).starts_with("cannot hold this house (CHECK constraint failed"));
  CHECK(refusal(path, [&] {
          change_house(
              path, [](House& h) { h.loads[0].at = "Attic"; }, next.format);
        }).starts_with("cannot hold this house: table load: at = \"Attic\""));
  CHECK(bytes_of(path) == before);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: an older program refuses the migrated file") {
  const Folder folder;
  const NextVersion next;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house(), next.format);
  const std::string line =
      "was written by a newer evenleg (file version 6, and this program knows versions up to 5); "
      "update evenleg";
  CHECK(refusal(path, [&] { (void)load_house(path); }) == line);
  CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) == line);
}

}  // namespace
}  // namespace evenleg
