// Changes, undo and redo of a house file that a page is open on, with other programs at it.
#include "src/page/open_house.h"

#include "evenleg/base/error.h"
#include "tests/page/page_house.h"

namespace evenleg {
namespace {

using page_test::HouseFile;
using page_test::tables;

void rename_house(OpenHouse& open, const std::string& name) {
  open.change("Name " + name, [&](House& house) { house.about["name"] = name; });
}

TEST_CASE("every step is in the file, and undone and redone there") {
  const HouseFile file;
  const House before = load_house(file.path());
  News news;
  OpenHouse open(file.path(), tables(), news);
  CHECK_FALSE(open.now().undo.has_value());
  rename_house(open, "One");
  rename_house(open, "Two");
  CHECK(name_of(load_house(file.path())) == "Two");
  CHECK(open.now().undo == "Name Two");
  CHECK(open.now().undo_steps == 2);
  open.undo();
  CHECK(name_of(load_house(file.path())) == "One");
  CHECK(open.now().redo == "Name Two");
  open.undo();
  CHECK(load_house(file.path()) == before);
  CHECK_THROWS_AS(open.undo(), Error);
  open.redo();
  open.redo();
  CHECK(name_of(load_house(file.path())) == "Two");
  CHECK_THROWS_AS(open.redo(), Error);
  open.undo_all();
  CHECK(load_house(file.path()) == before);
  CHECK(open.now().undo_steps == 0);
  open.redo();
  CHECK(name_of(load_house(file.path())) == "One");
  rename_house(open, "Three");
  CHECK_FALSE(open.now().redo.has_value());
}

TEST_CASE("a change that changes nothing is no step") {
  const HouseFile file;
  News news;
  OpenHouse open(file.path(), tables(), news);
  const int revision = open.now().revision;
  open.change("nothing", [](House&) {});
  CHECK(open.now().revision == revision);
  CHECK(open.now().undo_steps == 0);
}

TEST_CASE("what is missing is kept, what is wrong is refused with the file as it was") {
  const HouseFile file;
  News news;
  OpenHouse open(file.path(), tables(), news);
  open.change("no rating", [](House& house) { house.loads[0].watts.reset(); });
  CHECK(open.now().missing.size() == 1);
  CHECK(open.now().watcher == nullptr);
  const House kept = load_house(file.path());
  CHECK_FALSE(kept.loads[0].watts.has_value());
  CHECK_THROWS_AS(open.change("taken", [](House& house) { house.circuits[3].space = 1; }), Error);
  CHECK_THROWS_AS(open.change("thrown",
                              [](House& house) {
                                house.about["name"] = "half";
                                throw Error(ErrorKind::Request, {"a", "b", "c"});
                              }),
                  Error);
  CHECK(load_house(file.path()) == kept);
  CHECK(open.now().undo_steps == 1);
}

TEST_CASE("other programs' changes are seen, and never overwritten by undo") {
  const HouseFile file;
  News news;
  OpenHouse open(file.path(), tables(), news);
  rename_house(open, "Ours");
  const int revision = open.now().revision;
  change_house(file.path(), [](House& house) { house.about["owner"] = "someone"; });
  CHECK(open.now().revision > revision);
  CHECK(open.now().house->about.at("owner") == "someone");
  CHECK_THROWS_AS(open.undo(), Error);
  CHECK(load_house(file.path()).about.at("owner") == "someone");
  // A step after it can be undone; all steps back to the other's change, and no further.
  rename_house(open, "Ours again");
  open.undo_all();
  CHECK(name_of(load_house(file.path())) == "Ours");
  CHECK(load_house(file.path()).about.at("owner") == "someone");
}

TEST_CASE("a file that is no house file is refused") {
  const HouseFile file;
  News news;
  CHECK_THROWS_AS(OpenHouse(file.path().parent_path() / "none.house", tables(), news), Error);
  const auto text = file.path().parent_path() / "text.toml";
  std::FILE* out = std::fopen(text.c_str(), "w");
  REQUIRE(out != nullptr);
  std::fputs(page_test::kSmallHouse, out);
  std::fclose(out);
  CHECK_THROWS_AS(OpenHouse(text, tables(), news), Error);
}

}  // namespace
}  // namespace evenleg
