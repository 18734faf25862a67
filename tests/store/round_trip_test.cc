#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <set>

#include "evenleg/store/store.h"
#include "src/store/house_rows.h"
#include "src/store/kinds.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

TEST_CASE("store: the test house uses every key with something else than its default") {
  const House house = every_key_house();
  for_each_kind([&]<class Record>(std::type_identity<Record>) {
    for (const Field<Record>& field : fields_of<Record>()) {
      CAPTURE(kind_name<Record>);
      CAPTURE(field.key);
      bool used = false;
      for (const Record& row : rows_of<Record>(house)) {
        used = used || field.get(row) != field.get(Record{});
      }
      CHECK(used);
    }
  });
}

TEST_CASE("store: a house with every key is read back equal, from one single file") {
  const Folder folder;
  const House house = every_key_house();
  create_house_file(folder / "all.house", house);
  CHECK(folder.names() == std::set<std::string>{"all.house"});
  CHECK(load_house(folder / "all.house") == house);
  CHECK(check_house_file(folder / "all.house").empty());
  CHECK(is_house_file(folder / "all.house"));
}

TEST_CASE("store: a house with only a supply is read back equal") {
  const Folder folder;
  House house;
  house.supply.system = "230/400 wye";
  create_house_file(folder / "new.house", house);
  CHECK(load_house(folder / "new.house") == house);
}

TEST_CASE("store: an empty transformer or service stays there, an absent one stays away") {
  const Folder folder;
  House house;
  house.supply.system = "230/400 wye";
  house.supply.transformer = Transformer{};
  house.service = Service{};
  create_house_file(folder / "a.house", house);
  CHECK(load_house(folder / "a.house") == house);
  change_house(folder / "a.house", [](House& changed) {
    changed.supply.transformer.reset();
    changed.service.reset();
  });
  house.supply.transformer.reset();
  house.service.reset();
  CHECK(load_house(folder / "a.house") == house);
}

TEST_CASE("store: a number is read back as the same double") {
  const Folder folder;
  for (const double ohms : {0.0, 0.1, 1.0 / 3.0, 1e6, 1e-9, std::nextafter(0.1, 1), 123456.789}) {
    CAPTURE(ohms);
    House house = every_key_house();
    house.service->run.hot_ohms = ohms;
    create_house_file(folder / "n.house", house);
    CHECK(*load_house(folder / "n.house").service->run.hot_ohms == ohms);
    fs::remove(folder / "n.house");
  }
}

TEST_CASE("store: each kind can be changed, put in another order and removed by itself") {
  const Folder folder;
  House house = every_key_house();
  create_house_file(folder / "c.house", house);
  const auto both = [&](const std::function<void(House&)>& change) {
    change(house);
    change_house(folder / "c.house", change);
    CHECK(load_house(folder / "c.house") == house);
  };
  both([](House& h) { h.about["name"] = "Other"; });
  both([](House& h) { h.visit.clear(); });
  both([](House& h) { h.supply.volts = {120}; });
  both([](House& h) { h.service->breaker_a = 100; });
  both([](House& h) { h.panels[1].at_spaces = {1, 3, 5}; });
  both([](House& h) { std::swap(h.outlets[0], h.outlets[1]); });
  both([](House& h) { std::swap(h.loads[0], h.loads[4]); });
  both([](House& h) { h.scenarios[1].share["Lamp"] = 0; });
  both([](House& h) { h.readings.erase(h.readings.begin()); });
  both([](House& h) { h.findings[0].urgency.reset(); });
  both([](House& h) { h.multiwires.pop_back(); });
  both([](House& h) {  // a new name, and every reference to it
    h.panels[0].name = "Haupt";
    h.panels[1].fed_from = "Haupt";
    h.circuits[0].panel = "Haupt";
  });
  both([](House& h) {
    House bare;
    bare.supply = h.supply;
    h = bare;
  });
}

TEST_CASE("store: a change rewrites the tables of the kinds that differ, and no other") {
  const Folder folder;
  create_house_file(folder / "d.house", every_key_house());
  House after = every_key_house();
  after.findings.pop_back();
  // A refused write to any other table would show: those tables are gone.
  SQLite::Database file((folder / "d.house").string(), SQLite::OPEN_READWRITE);
  file.exec("DROP TABLE reading_on; DROP TABLE reading; DROP TABLE scenario_on");
  write_difference(file, every_key_house(), after);
  CHECK(file.execAndGet("SELECT count(*) FROM finding").getInt() == 1);
}

TEST_CASE("store: names that SQLite takes for something else are names of files") {
  const Folder folder;
  const fs::path back = fs::current_path();
  fs::current_path(folder.path());
  for (const char* name : {":memory:", "file:odd.house?mode=memory", "file:odd", "a b%20c.house"}) {
    CAPTURE(name);
    create_house_file(name, every_key_house());
    CHECK(folder.names() == std::set<std::string>{name});
    CHECK(load_house(name) == every_key_house());
    CHECK(is_house_file(name));
    fs::remove(folder / name);
  }
  fs::current_path(back);
}

TEST_CASE("store: a house that could not be read back is not written") {
  static constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  static constexpr double kInfinity = std::numeric_limits<double>::infinity();
  struct Case {
    const char* what;
    std::function<void(House&)> spoil;
  };
  const Case cases[] = {
      {"cannot hold this house: service: hot_ohms = ",
       [](House& h) { h.service->run.hot_ohms = kNan; }},
      {"cannot hold this house: load \"Pump\": amps = ",
       [](House& h) { h.loads[2].amps = kInfinity; }},
      {"cannot hold this house: supply: volts holds ", [](House& h) { h.supply.volts = {kNan}; }},
      {"cannot hold this house: scenario \"Morning\": share of \"Lamp\" = ",
       [](House& h) { h.scenarios[1].share["Lamp"] = kNan; }},
      {"cannot hold this house: panel 1: name = \"\"", [](House& h) { h.panels[0].name = ""; }},
      {"cannot hold this house: outlet \"Left of sink\": length_ft = -1",
       [](House& h) { h.outlets[1].run.length_ft = -1; }},
      {"cannot hold this house: reading 2: time = \"noon\"",
       [](House& h) { h.readings[1].time = "noon"; }},
      {"cannot hold this house: visit: by is not valid UTF-8",
       [](House& h) { h.visit["by"] = "\xff"; }},
      {"cannot hold this house: supply: system = \"\"", [](House& h) { h.supply.system = ""; }},
      {"cannot hold this house (UNIQUE constraint failed: panel.name)",
       [](House& h) { h.panels[1].name = "Main"; }},
      {"cannot hold this house: table circuit: panel names a panel that is not there",
       [](House& h) { h.circuits[0].panel = "Shed"; }},
      {"cannot hold this house: table load: at = \"Attic\", and no outlet or circuit has that name",
       [](House& h) { h.loads[0].at = "Attic"; }},
  };
  const Folder folder;
  create_house_file(folder / "old.house", every_key_house());
  const std::string before = bytes_of(folder / "old.house");
  for (const Case& row : cases) {
    CAPTURE(row.what);
    House house = every_key_house();
    row.spoil(house);
    const fs::path fresh = folder / "new.house";
    const std::string made = refusal(fresh, [&] { create_house_file(fresh, house); });
    CHECK(made.substr(0, std::string(row.what).size()) == row.what);
    const fs::path old = folder / "old.house";
    const std::string changed = refusal(old, [&] { change_house(old, row.spoil); });
    CHECK(changed == made);
    CHECK(folder.names() == std::set<std::string>{"old.house"});
    CHECK(bytes_of(old) == before);
  }
}

}  // namespace
}  // namespace evenleg
