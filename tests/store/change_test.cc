// One change is one transaction: all of it, or the file as it was.
#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

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

TEST_CASE("store: an exception from the change passes through and leaves the file as it was") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  CHECK_THROWS_AS(change_house(path,
                               [](House& house) {
                                 house.loads.clear();
                                 throw std::logic_error("changed its mind");
                               }),
                  std::logic_error);
  CHECK(bytes_of(path) == before);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
  CHECK(load_house(path) == every_key_house());
}

TEST_CASE("store: the revision rises with every change and with nothing else") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::uint32_t first = house_file_revision(path);
  CHECK(load_house(path) == every_key_house());
  CHECK(house_file_revision(path) == first);
  change_house(path, [](House& house) { house.about["name"] = "Another name"; });
  CHECK(house_file_revision(path) > first);
}

TEST_CASE("store: reading and checking leave every byte and the folder as they were") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  const auto written = fs::last_write_time(path);
  (void)load_house(path);
  (void)check_house_file(path);
  (void)is_house_file(path);
  change_house(path, [](House&) {});  // a change that changes nothing
  CHECK(bytes_of(path) == before);
  CHECK(fs::last_write_time(path) == written);
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: two writers at once both succeed, and neither loses the other's work") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  House house;
  house.supply.system = "120/240 split-phase";
  create_house_file(path, house);
  constexpr int kEach = 25;
  const auto add_findings = [&](const std::string& who) {
    for (int i = 0; i < kEach; ++i) {
      change_house(path, [&](House& changed) {
        changed.findings.push_back({who, std::to_string(i), {}, {}, {}});
      });
    }
    return 0;
  };
  const pid_t other = ::fork();
  REQUIRE(other >= 0);
  if (other == 0) ::_exit(add_findings("other"));
  CHECK(in_child([&] { return add_findings("one"); }) == 0);
  int status = -1;
  REQUIRE(::waitpid(other, &status, 0) == other);
  CHECK(status == 0);
  CHECK(load_house(path).findings.size() == 2 * kEach);
  std::set<std::pair<std::string, std::string>> all;
  for (const SiteFinding& finding : load_house(path).findings) {
    all.emplace(*finding.where, finding.observation);
  }
  CHECK(all.size() == 2 * kEach);
  CHECK(check_house_file(path).empty());
}

TEST_CASE("store: a file that stays locked is refused in one line, and readers still read") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  Format impatient = current_format();
  impatient.busy_milliseconds = 20;
  SQLite::Database other(path.string(), SQLite::OPEN_READWRITE);
  other.exec("BEGIN IMMEDIATE");
  const auto change = [&] {
    change_house(
        path, [](House&) {}, impatient);
  };
  CHECK(refusal(path, change) == "is in use by another program; try again when that one is done");
  CHECK(load_house(path) == every_key_house());
  other.exec("COMMIT; BEGIN EXCLUSIVE");
  CHECK(refusal(path, [&] { (void)load_house(path, impatient); }) ==
        "is in use by another program; try again when that one is done");
}

TEST_CASE("store: looking at a file does not drop the locks that this process has on it") {
  // On POSIX systems close() drops every lock of the process on that file; see first_bytes.h.
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  // The other program starts before the lock is taken: a child would inherit SQLite's own record of
  // it, and would be refused whatever the system's locks say.
  std::array<int, 2> go{};
  REQUIRE(::pipe(go.data()) == 0);
  const pid_t other = ::fork();
  REQUIRE(other >= 0);
  if (other == 0) {
    Format impatient = current_format();
    impatient.busy_milliseconds = 20;
    char signal = 0;
    if (::read(go[0], &signal, 1) != 1) ::_exit(2);
    try {
      change_house(
          path, [](House& house) { house.about["name"] = "Stolen"; }, impatient);
    } catch (const Error&) {
      ::_exit(0);
    }
    ::_exit(1);
  }
  SQLite::Database held(path.string(), SQLite::OPEN_READWRITE);
  held.exec("BEGIN IMMEDIATE");
  CHECK(is_house_file(path));
  CHECK(load_house(path) == every_key_house());
  CHECK(check_house_file(path).empty());
  CHECK(::write(go[1], "g", 1) == 1);
  int status = -1;
  REQUIRE(::waitpid(other, &status, 0) == other);
  CHECK(status == 0);
  for (const int end : go) ::close(end);
}

}  // namespace
}  // namespace evenleg
