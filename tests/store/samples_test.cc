// A file of every schema version that was released, as it lay on a disk: each opens, gives the house
// and the audit of its description, and is migrated at its first change with a copy beside it.
// samples/v1.house was written by the program of that version from samples/v1.toml; the others are
// that file taken through the released steps of its successors, one by one.
#include <doctest/doctest.h>

#include <cstdlib>

#include "evenleg/audit/audit.h"
#include "evenleg/base/files.h"
#include "evenleg/describe/describe.h"
#include "evenleg/report/audit_json.h"
#include "evenleg/store/store.h"
#include "evenleg/tables/tables.h"
#include "src/store/format.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

fs::path sample(const std::string& name) {
  const char* source = std::getenv("EVENLEG_SOURCE_DIR");
  REQUIRE(source != nullptr);
  return fs::path(source) / "tests/store/samples" / name;
}

std::string audited(const House& house, const Tables& tables) {
  AuditOptions options;
  options.certify = false;
  return audit_json(house, tables, audit(house, tables, options), options.scenario);
}

TEST_CASE("store: a file of every released version opens, gives the same audit, and is migrated") {
  const Tables tables = load_tables();
  const House described =
      read_description(read_file(sample("v1.toml")), "v1.toml", vocabulary(tables));
  const std::string expected = audited(described, tables);
  const int versions = current_format().version();
  for (int version = 1; version <= versions; ++version) {
    CAPTURE(version);
    const std::string name = "v" + std::to_string(version) + ".house";
    REQUIRE(fs::exists(sample(name)));
    const Folder folder;
    const fs::path path = folder / "a.house";
    const std::string bytes = read_file(sample(name));
    put_bytes(path, bytes);
    CHECK(check_house_file(path).empty());
    CHECK(load_house(path) == described);
    CHECK(audited(load_house(path), tables) == expected);
    CHECK(bytes_of(path) == bytes);
    change_house(path, [](House& house) { house.about["name"] = "Changed"; });
    House changed = described;
    changed.about["name"] = "Changed";
    CHECK(load_house(path) == changed);
    CHECK(check_house_file(path).empty());
    if (version == versions) continue;
    const fs::path backup = folder / ("a.house.v" + std::to_string(version) + "-backup");
    REQUIRE(fs::exists(backup));
    CHECK(load_house(backup) == described);
  }
  CHECK_FALSE(fs::exists(sample("v" + std::to_string(versions + 1) + ".house")));
}

}  // namespace
}  // namespace evenleg
