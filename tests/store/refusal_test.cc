// What is not a house file, or cannot be reached: one line that says which, what, and what to do.
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <set>

#include "evenleg/store/store.h"
#include "src/store/format.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

// Reading, changing and checking must all refuse `path` with the same line.
void check_refused(const fs::path& path, const std::string& line) {
  CAPTURE(path);
  CHECK(refusal(path, [&] { (void)load_house(path); }) == line);
  CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) == line);
  CHECK(refusal(path, [&] { (void)check_house_file(path); }) == line);
}

// The check tells it as a sentence instead.
void check_not_sound(const fs::path& path, const std::string& line) {
  CAPTURE(path);
  CHECK(refusal(path, [&] { (void)load_house(path); }) == line);
  CHECK(refusal(path, [&] { change_house(path, [](House&) {}); }) == line);
  CHECK(check_house_file(path) == std::vector<std::string>{line});
}

TEST_CASE("store: an absent file is refused and not made") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  const std::string remedy = "; check the name, or make it with \"evenleg new ";
  check_refused(path, "no such file" + remedy + path.string() + "\"");
  const fs::path deep = folder / "no/a.house";
  check_refused(deep, "no such file" + remedy + deep.string() + "\"");
  check_refused("", "no such file" + remedy + "\"");
  fs::create_symlink(folder / "gone", folder / "link.house");
  const fs::path link = folder / "link.house";
  check_refused(link, "no such file" + remedy + link.string() + "\"");
  CHECK(folder.names() == std::set<std::string>{"link.house"});
  CHECK_FALSE(is_house_file(path));
  CHECK_FALSE(is_house_file(link));
}

TEST_CASE("store: a folder, a pipe and an empty file are refused") {
  const Folder folder;
  check_refused(folder.path(), "is a folder, not a file; name a file in it");
  REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
  check_refused(folder / "pipe", "is not a regular file; name a house file");
  put_bytes(folder / "empty.house", "");
  check_refused(folder / "empty.house",
                "is empty, so it is not a house file; restore a copy, or delete it and make a new "
                "one");
  for (const char* name : {"pipe", "empty.house", ""}) CHECK_FALSE(is_house_file(folder / name));
  CHECK(folder.names() == std::set<std::string>{"pipe", "empty.house"});
  CHECK(bytes_of(folder / "empty.house").empty());
}

TEST_CASE("store: a text is refused, also one shorter than a header") {
  const Folder folder;
  for (const std::string text :
       {"format = 1\n", "x", "SQLite format 3", "SQLite format 3\n......"}) {
    CAPTURE(text);
    put_bytes(folder / "a.toml", text);
    check_not_sound(folder / "a.toml",
                    "is not a house file; name one; a house description becomes one with \"evenleg "
                    "new HOUSE.house --from a.toml\"");
    CHECK_FALSE(is_house_file(folder / "a.toml"));
    CHECK(bytes_of(folder / "a.toml") == text);
  }
  CHECK(folder.names() == std::set<std::string>{"a.toml"});
}

TEST_CASE("store: another program's database is refused and left alone") {
  const Folder folder;
  run_sql(folder / "other.db", "CREATE TABLE panel (name TEXT); PRAGMA user_version = 1");
  const std::string before = bytes_of(folder / "other.db");
  check_not_sound(folder / "other.db",
                  "is an SQLite database of another program, not a house file; name a house file");
  CHECK(is_house_file(folder / "other.db"));  // by its first bytes, as documented
  CHECK(bytes_of(folder / "other.db") == before);
}

TEST_CASE("store: a file from a newer program is refused with a sentence") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  run_sql(path, "PRAGMA user_version = 7");
  const std::string before = bytes_of(path);
  check_not_sound(path,
                  "was written by a newer evenleg (file version 7, and this program knows versions "
                  "up to 5); update evenleg");
  CHECK(bytes_of(path) == before);
  run_sql(path, "PRAGMA user_version = 0");
  check_not_sound(path, "is damaged: it says that its version is 0; restore a copy of it");
}

TEST_CASE("store: a file without one of its tables, or with views or triggers, is refused") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  run_sql(path, "CREATE TABLE my_notes (text)");  // does no harm
  CHECK(load_house(path) == every_key_house());
  run_sql(path, "CREATE TRIGGER t AFTER INSERT ON load BEGIN DELETE FROM panel; END");
  check_not_sound(path, "holds views or triggers, and a house file has none; restore a copy of it");
  run_sql(path, "DROP TRIGGER t; DROP TABLE reading_on");
  check_not_sound(path, "is damaged: its table reading_on is missing; restore a copy of it");
}

TEST_CASE("store: a file in WAL mode is refused before SQLite makes files beside it") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  run_sql(path, "PRAGMA journal_mode = WAL");
  check_not_sound(
      path,
      "was set to write-ahead logging by another program; set it back there with PRAGMA "
      "journal_mode = DELETE");
  CHECK(folder.names() == std::set<std::string>{"a.house"});
  run_sql(path, "PRAGMA journal_mode = DELETE");
  CHECK(load_house(path) == every_key_house());
}

TEST_CASE("store: what exists is never overwritten, not even a link that leads nowhere") {
  const Folder folder;
  put_bytes(folder / "text.house", "mine");
  fs::create_directory(folder / "folder.house");
  fs::create_symlink(folder / "gone", folder / "link.house");
  const std::set<std::string> before = folder.names();
  for (const char* name : {"text.house", "folder.house", "link.house"}) {
    const fs::path path = folder / name;
    CHECK(refusal(path, [&] { create_house_file(path, every_key_house()); }) ==
          "exists already; choose another name, or move it away first");
  }
  CHECK(bytes_of(folder / "text.house") == "mine");
  CHECK(folder.names() == before);
}

TEST_CASE("store: a journal left by an earlier house of that name is not taken for the new one's") {
  const Folder folder;
  put_bytes(folder / "a.house-journal", "left");
  CHECK(
      refusal(folder / "a.house-journal",
              [&] { create_house_file(folder / "a.house", every_key_house()); }) ==
      "was left by an earlier house file of this name; move it away first, or choose another name");
  CHECK(folder.names() == std::set<std::string>{"a.house-journal"});
}

TEST_CASE("store: a house cannot be made where there is no folder, or under no name") {
  const Folder folder;
  const fs::path lost = folder / "no/a.house";
  CHECK(refusal(lost, [&] { create_house_file(lost, every_key_house()); }) ==
        "cannot be made: No such file or directory; check the folder, its permissions and the free "
        "space");
  const fs::path nameless = folder / "";
  CHECK(refusal(nameless, [&] { create_house_file(nameless, every_key_house()); }) ==
        "is not the name of a file; give the house file a name");
  CHECK(folder.names().empty());
}

// In a child process without the superuser's rights: 0 when `line` was the refusal.
int refused_in_plain_child(const fs::path& path, const std::string& line,
                           const std::function<void()>& call) {
  return in_plain_child([&] {
    try {
      call();
    } catch (const Error& error) {
      return error.what() == path.string() + ": " + line ? 0 : 1;
    }
    return 2;
  });
}

TEST_CASE("store: without permission to read or write there is one line, and nothing changes") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  const std::string check = "; check the permissions of the file and of its folder";
  const auto change = [&] { change_house(path, [](House& h) { h.about["name"] = "New"; }); };
  fs::permissions(path, fs::perms::owner_read | fs::perms::others_read);
  fs::permissions(folder.path(), fs::perms::others_exec | fs::perms::owner_exec);
  CHECK(refused_in_plain_child(path, "cannot be written" + check, change) == 0);
  CHECK(in_plain_child([&] { return load_house(path) == every_key_house() ? 0 : 1; }) == 0);
  // A file that may be written, in a folder that may not: there is no place for the journal.
  fs::permissions(path, fs::perms::others_read | fs::perms::others_write | fs::perms::owner_read |
                            fs::perms::owner_write);
  CHECK(refused_in_plain_child(path, "cannot be written" + check, change) == 0);
  CHECK(in_plain_child([&] { return load_house(path) == every_key_house() ? 0 : 1; }) == 0);
  CHECK(refused_in_plain_child(folder / "b.house",
                               "cannot be made: Permission denied; check the folder, its "
                               "permissions and the free space",
                               [&] { create_house_file(folder / "b.house", House{}); }) == 0);
  fs::permissions(path, fs::perms::none);
  CHECK(refused_in_plain_child(path, "cannot be opened for reading" + check,
                               [&] { (void)load_house(path); }) == 0);
  CHECK(refused_in_plain_child(path, "cannot be opened for reading" + check,
                               [&] { (void)check_house_file(path); }) == 0);
  fs::permissions(folder.path(), fs::perms::none);
  CHECK(refused_in_plain_child(path, "cannot be reached: Permission denied" + check,
                               [&] { (void)load_house(path); }) == 0);
  fs::permissions(folder.path(), fs::perms::owner_all);
  fs::permissions(path, fs::perms::owner_all);
  CHECK(bytes_of(path) == before);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: a link to a house file is that house file") {
  const Folder folder;
  fs::create_directory(folder / "real");
  create_house_file(folder / "real/a.house", every_key_house());
  fs::create_symlink(folder / "real/a.house", folder / "link.house");
  change_house(folder / "link.house", [](House& house) { house.about["name"] = "Linked"; });
  CHECK(load_house(folder / "real/a.house").about["name"] == "Linked");
  CHECK(is_house_file(folder / "link.house"));
  CHECK(fs::is_symlink(folder / "link.house"));
  CHECK(folder.names() == std::set<std::string>{"real", "link.house"});
}

}  // namespace
}  // namespace evenleg
