#include "src/store/schema.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <algorithm>
#include <set>

#include "evenleg/store/store.h"
#include "src/store/kinds.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

using namespace store_test;

std::set<std::string> columns_of(SQLite::Database& file, const std::string& table) {
  std::set<std::string> names;
  SQLite::Statement columns(file, "SELECT name FROM pragma_table_info(?)");
  columns.bind(1, table);
  while (columns.executeStep()) names.insert(columns.getColumn(0).getString());
  return names;
}

TEST_CASE("store: the marks of the file stand where SQLite's format says") {
  // "SQLite Database File Format", section 1.3: bytes 60 to 63 are the user version, 68 to 71 the
  // application id, both big-endian; 18 and 19 are 1 in rollback journal mode.
  const Folder folder;
  create_house_file(folder / "a.house", every_key_house());
  const std::string bytes = bytes_of(folder / "a.house");
  CHECK(bytes.substr(0, 16) == std::string("SQLite format 3\0", 16));
  CHECK(bytes.substr(18, 2) == "\1\1");
  CHECK(bytes.substr(60, 4) == std::string("\0\0\0\5", 4));
  CHECK(bytes.substr(68, 4) == "EvLg");
}

TEST_CASE("store: every key has its column or its table, and there are no others") {
  const Folder folder;
  create_house_file(folder / "a.house", every_key_house());
  SQLite::Database file((folder / "a.house").string());
  std::set<std::string> tables{"house", "visit", "applied_plan"};
  for_each_kind([&]<class Record>(std::type_identity<Record>) {
    std::set<std::string> wanted{"position"};
    const std::string table = table_of<Record>();
    tables.insert(table);
    for (const Field<Record>& field : fields_of<Record>()) {
      const std::string list = table + "_" + std::string(field.key);
      if (!is_list(field.type)) wanted.insert(std::string(field.key));
      if (!is_list(field.type)) continue;
      tables.insert(list);
      std::string third = "position";
      if (field.type == FieldType::Shares) third = "share";
      if (field.type == FieldType::Spectrum) third = "number";
      CHECK(columns_of(file, list) == std::set<std::string>{table, third, "item"});
    }
    CAPTURE(table);
    CHECK(columns_of(file, table) == wanted);
  });
  std::set<std::string> found;
  SQLite::Statement all(file,
                        "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' "
                        "AND name NOT LIKE 'sqlite%'");
  while (all.executeStep()) {
    found.insert(all.getColumn(0).getString());
    CHECK(all.getColumn(1).getInt() == 1);
  }
  CHECK(found == tables);
}

TEST_CASE("store: every choice of a key can be stored, so the schema's lists are the keys' lists") {
  const Folder folder;
  create_house_file(folder / "a.house", every_key_house());
  SQLite::Database file((folder / "a.house").string(), SQLite::OPEN_READWRITE);
  int choices = 0;
  for_each_kind([&]<class Record>(std::type_identity<Record>) {
    for (const Field<Record>& field : fields_of<Record>()) {
      for (const std::string& choice : field.choices) {
        CAPTURE(choice);
        SQLite::Statement update(
            file, "UPDATE " + table_of<Record>() + " SET \"" + std::string(field.key) + "\" = ?");
        update.bind(1, choice);
        CHECK(update.exec() > 0);
        ++choices;
      }
    }
  });
  // recorded_period, protection, neutral_joint, switching, code_letter, demand, meter_input,
  // urgency
  CHECK(choices == 2 + 4 + 3 + 3 + 19 + 18 + 2 + 4);
}

TEST_CASE("store: each constraint refuses a row that breaks it") {
  const char* const kBad[] = {
      "INSERT INTO house VALUES ('', 'x')",
      "INSERT INTO house VALUES ('name', 'again')",
      "INSERT INTO house VALUES ('x', NULL)",
      "INSERT INTO visit VALUES ('', 'x')",
      "INSERT INTO supply VALUES (1, 'second')",
      "UPDATE supply SET system = ''",
      "UPDATE supply SET system = NULL",
      "UPDATE supply_volts SET item = 0",
      "UPDATE supply_volts SET position = 0",
      "UPDATE supply_volts SET item = 'much'",
      "UPDATE supply_volts SET supply = 7",
      "UPDATE supply_transformer SET kva = -1",
      "UPDATE supply_transformer SET resistance_percent = -1",
      "UPDATE supply_transformer SET reactance_percent = -1",
      "DELETE FROM supply",
      "INSERT INTO service (position) VALUES (1)",
      "UPDATE service SET breaker_a = 0",
      "UPDATE service SET conductor = ''",
      "UPDATE service SET neutral = ''",
      "UPDATE service SET length_ft = -1",
      "UPDATE service SET length_m = -1",
      "UPDATE service SET hot_ohms = -1",
      "UPDATE service SET neutral_ohms = -1",
      "UPDATE service SET earth_return_ohms = -1",
      "UPDATE panel SET name = 'same'",
      "UPDATE panel SET name = ''",
      "UPDATE panel SET name = NULL",
      "UPDATE panel SET spaces = 0",
      "UPDATE panel SET spaces = 1.5",
      "UPDATE panel SET spaces = NULL",
      "UPDATE panel SET neutral_loss_trip_volts = 0",
      "UPDATE panel SET fed_from = 'Shed'",
      "UPDATE panel SET breaker_a = -5",
      "UPDATE panel SET length_ft = 'long'",
      "UPDATE panel_at_spaces SET item = 0",
      "UPDATE panel_at_spaces SET panel = 9",
      "UPDATE circuit SET name = 'same'",
      "UPDATE circuit SET panel = 'Shed'",
      "UPDATE circuit SET space = 0",
      "UPDATE circuit SET poles = 0",
      "UPDATE circuit SET poles = NULL",
      "UPDATE circuit SET breaker_a = 0",
      "UPDATE circuit SET protection = 'gfci'",
      "UPDATE circuit SET protection = NULL",
      "UPDATE circuit SET locked = 2",
      "UPDATE circuit SET hot_ohms = -1e-9",
      "UPDATE circuit_legs SET item = ''",
      "UPDATE circuit_legs SET circuit = 9",
      "UPDATE multiwire SET name = 'same'",
      "UPDATE multiwire SET common_disconnect = 2",
      "UPDATE multiwire SET neutral_joint = 'twisted'",
      "UPDATE multiwire_circuits SET item = 'Attic'",
      "UPDATE multiwire_circuits SET position = 0",
      "UPDATE outlet SET name = 'same'",
      "UPDATE outlet SET \"on\" = NULL",
      "UPDATE outlet SET \"on\" = ''",
      "UPDATE outlet SET after = 'nowhere'",
      "UPDATE load SET name = 'same'",
      "UPDATE load SET at = NULL",
      "UPDATE load SET circuit = 'Attic'",
      "UPDATE load SET connect = ''",
      "UPDATE load SET kind = ''",
      "UPDATE load SET watts = 0",
      "UPDATE load SET va = 0",
      "UPDATE load SET amps = 0",
      "UPDATE load SET ohms = 0",
      "UPDATE load SET measured_amps = 0",
      "UPDATE load SET volts = 0",
      "UPDATE load SET power_factor = 0",
      "UPDATE load SET leading = 2",
      "UPDATE load SET \"on\" = NULL",
      "UPDATE load SET switching = 'sometimes'",
      "UPDATE load SET noncoincident = ''",
      "UPDATE load SET max_volts = 0",
      "UPDATE load SET starting_amps = 0",
      "UPDATE load SET code_letter = 'I'",
      "UPDATE load SET horsepower = 0",
      "UPDATE load SET starting_power_factor = 0",
      "UPDATE load SET starts_per_hour = 0",
      "UPDATE load_spectrum SET load = 9",
      "UPDATE load_spectrum SET item = ''",
      "UPDATE load_spectrum SET number = -1",
      "UPDATE load_spectrum_degrees SET load = 9",
      "UPDATE load_spectrum_degrees SET item = ''",
      "UPDATE load_spectrum_degrees SET number = NULL",
      "UPDATE scenario SET name = 'same'",
      "UPDATE scenario_on SET item = 'Attic'",
      "UPDATE scenario_share SET item = 'Attic'",
      "UPDATE scenario_share SET share = -0.1",
      "UPDATE scenario_share SET share = NULL",
      "UPDATE reading SET at = ''",
      "UPDATE reading SET label = ''",
      "UPDATE reading SET time = ''",
      "UPDATE reading SET l1_n_volts = -1",
      "UPDATE reading SET l2_n_volts = -1",
      "UPDATE reading SET l1_l2_volts = -1",
      "UPDATE reading SET l1_amps = -1",
      "UPDATE reading SET l2_amps = -1",
      "UPDATE reading SET neutral_amps = -1",
      "UPDATE reading SET electrode_amps = -1",
      "UPDATE reading SET water_pipe_amps = -1",
      "UPDATE reading SET neutral_ground_volts = -1",
      "UPDATE reading SET instrument = ''",
      "UPDATE reading SET position = -1 WHERE position = 1",
      "UPDATE reading_on SET item = 'Attic'",
      "UPDATE reading_on SET reading = 9",
      "UPDATE finding SET \"where\" = ''",
      "UPDATE finding SET observation = NULL",
      "UPDATE finding SET implication = ''",
      "UPDATE finding SET recommendation = ''",
      "UPDATE finding SET urgency = 'at once'",
  };
  const Folder folder;
  create_house_file(folder / "a.house", every_key_house());
  SQLite::Database file((folder / "a.house").string(), SQLite::OPEN_READWRITE);
  file.exec("PRAGMA foreign_keys = ON");
  for (const char* sql : kBad) {
    CAPTURE(sql);
    int code = SQLITE_OK;
    try {
      SQLite::Transaction transaction(file);
      file.exec(sql);
      transaction.commit();  // where deferred foreign keys are looked at
    } catch (const SQLite::Exception& failure) {
      code = failure.getErrorCode();
    }
    CHECK(code == SQLITE_CONSTRAINT);
  }
  CHECK(load_house(folder / "a.house") == every_key_house());
}

TEST_CASE("store: values that only code can judge are refused on reading and told by the check") {
  struct Case {
    const char* sql;
    const char* fault;
  };
  const Case cases[] = {
      {"UPDATE panel SET spaces = 5000 WHERE position = 0",
       "panel \"Main\": spaces = 5000, and it must be a whole number from 1 to 200"},
      {"UPDATE panel_at_spaces SET item = 99999999999 WHERE position = 0",
       "panel \"Garage\": at_spaces holds 2147483647, and it must be a list of whole numbers, each "
       "from 1 to 200"},
      {"UPDATE circuit SET protection = 'none' WHERE position = 0",
       "circuit \"Counter left\": protection = \"none\", and it must be \"standard\", \"GFCI\", "
       "\"AFCI\" or \"dual\""},
      {"UPDATE circuit SET locked = 7 WHERE position = 0",
       "circuit \"Counter left\": locked = 7, and it must be true or false"},
      {"UPDATE load SET amps = 1e999 WHERE position = 2", "load \"Pump\": amps = "},
      {"UPDATE reading SET time = 'noon' WHERE position = 0",
       "reading 1: time = \"noon\", and it must be a date, or a date and time such as "
       "2026-03-14T10:20:00"},
      {"UPDATE visit SET value = CAST(x'ff' AS TEXT) WHERE key = 'by'",
       "visit: by is not valid UTF-8 text"},
      {"DELETE FROM supply_transformer; DELETE FROM supply_volts; DELETE FROM supply",
       "the supply is missing"},
      {"UPDATE load_spectrum SET item = '51' WHERE item = '3'",
       "load \"Pump\": spectrum has \"51\", and a harmonic order must be a whole number from 2 to "
       "50"},
      {"DELETE FROM scenario WHERE position = 0", "on of a scenario that is not there"},
      {"DELETE FROM multiwire_circuits WHERE multiwire = 1",
       "multiwire \"Not known\": circuits = absent, and it must be a list of names"},
  };
  for (const Case& row : cases) {
    CAPTURE(row.sql);
    const Folder folder;
    const std::filesystem::path path = folder / "a.house";
    create_house_file(path, every_key_house());
    run_sql(path, row.sql, false);
    const std::string before = bytes_of(path);
    const std::string expected = std::string("is damaged: ") + row.fault;
    const std::string refused = refusal(path, [&] { (void)load_house(path); });
    CHECK(refused.substr(0, expected.size()) == expected);
    CHECK(refused.ends_with("; restore a copy of it; \"evenleg check " + path.string() +
                            "\" tells more"));
    const std::vector<std::string> told = check_house_file(path);
    CHECK(
        std::ranges::any_of(told, [&](const std::string& s) { return s.starts_with(row.fault); }));
    CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) == refused);
    CHECK(bytes_of(path) == before);
  }
}

}  // namespace
}  // namespace evenleg
