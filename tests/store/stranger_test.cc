// Files that no evenleg wrote: what SQLite would work out while it reads them.
#include <doctest/doctest.h>

#include "evenleg/store/store.h"
#include "src/store/schema.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

// Refused by load, change and check alike; gives what load says.
std::string refused_by_all(const fs::path& path) {
  const std::string said = refusal(path, [&] { (void)load_house(path); });
  CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) == said);
  CHECK(check_house_file(path) == std::vector<std::string>{said});
  return said;
}

constexpr const char* kViews =
    "holds views or triggers, and a house file has none; restore a copy of it";

TEST_CASE("store: a file of an earlier version may not hold a view that never ends, either") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  run_sql(path, std::string(migrations()[0]) + R"sql(
DROP TABLE panel;
CREATE VIEW panel AS
  WITH RECURSIVE n (position) AS (SELECT 0 UNION ALL SELECT position + 1 FROM n)
  SELECT position, 'P' || position AS name, 8 AS spaces, NULL AS neutral_loss_trip_volts,
         NULL AS fed_from, NULL AS breaker_a, NULL AS conductor, NULL AS neutral,
         NULL AS length_ft, NULL AS length_m, NULL AS hot_ohms, NULL AS neutral_ohms FROM n;
PRAGMA user_version = 1;
)sql" +
                    "PRAGMA application_id = " + std::to_string(kApplicationId));
  CHECK(refused_by_all(path) == kViews);
}

TEST_CASE("store: columns that a formula fills, and tables that a module makes up, are refused") {
  const Folder folder;
  const fs::path computed = folder / "computed.house";
  create_house_file(computed, every_key_house());
  run_sql(computed,
          "ALTER TABLE finding DROP COLUMN implication;"
          "ALTER TABLE finding ADD COLUMN implication TEXT AS (hex(zeroblob(400000000)))");
  CHECK(refused_by_all(computed) ==
        "holds computed columns, and a house file has none; restore a copy of it");
  const fs::path made_up = folder / "made-up.house";
  create_house_file(made_up, every_key_house());
  run_sql(made_up, "CREATE VIRTUAL TABLE other USING fts5 (name)");
  CHECK(refused_by_all(made_up) ==
        "holds virtual tables, and a house file has none; restore a copy of it");
}

}  // namespace
}  // namespace evenleg
