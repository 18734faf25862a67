// A writer that is killed at any moment leaves the old house or the new one.
#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <random>
#include <set>

#include "evenleg/store/store.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

// Differs from every_key_house() in every kind, and in every reference to a panel.
House other_house() {
  House house = every_key_house();
  house.about["name"] = "Other";
  house.visit["by"] = "C. D.";
  house.supply.volts = {119};
  house.supply.transformer.reset();
  house.service->breaker_a = 100;
  house.panels[0].name = "Haupt";
  house.panels[1].fed_from = "Haupt";
  house.circuits[0].panel = "Haupt";
  house.readings[0].at = "Haupt";
  house.multiwires.pop_back();
  std::swap(house.outlets[0], house.outlets[1]);
  for (Load& load : house.loads) load.on = !load.on;
  house.scenarios.pop_back();
  house.findings.resize(40, {{}, "a long list", {}, {}, {}});
  return house;
}

useconds_t microseconds_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  const auto taken = std::chrono::steady_clock::now() - start;
  return static_cast<useconds_t>(
      std::chrono::duration_cast<std::chrono::microseconds>(taken).count());
}

TEST_CASE("store: a writer killed while it writes leaves the old house or the new one") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  const House one = every_key_house();
  const House two = other_house();
  create_house_file(path, one);
  constexpr int kKills = 60;
  constexpr unsigned kSeed = 20;
  std::mt19937 random(kSeed);
  const auto change = [&] {
    change_house(path, [&](House& house) { house = house == one ? two : one; });
  };
  // From before the first change to within the third, however fast the disk is.
  std::uniform_int_distribution<useconds_t> pause(0, 3 * microseconds_of(change));
  int with_journal = 0;
  int times_one = 0;
  for (int i = 0; i < kKills; ++i) {
    const pid_t writer = ::fork();
    REQUIRE(writer >= 0);
    while (writer == 0) change();
    ::usleep(pause(random));
    REQUIRE(::kill(writer, SIGKILL) == 0);
    REQUIRE(::waitpid(writer, nullptr, 0) == writer);
    if (fs::exists(folder / "a.house-journal")) ++with_journal;
    CAPTURE(i);
    const House left = load_house(path);
    CHECK((left == one || left == two));
    CHECK(check_house_file(path).empty());
    if (left == one) ++times_one;
  }
  MESSAGE(with_journal, " of ", kKills, " kills left a journal");
  CHECK(with_journal > 0);
  CHECK(times_one > 0);
  CHECK(times_one < kKills);
  change_house(path, [&](House& house) { house.about["name"] = "After"; });
  CHECK(load_house(path).about["name"] == "After");
  CHECK(folder.names() == std::set<std::string>{"a.house"});
}

TEST_CASE("store: a house cut off while it was made is not there under its name") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  constexpr int kKills = 40;
  // From before the first byte to after the last, however fast the disk is.
  const useconds_t whole =
      microseconds_of([&] { create_house_file(folder / "whole.house", every_key_house()); });
  const useconds_t step = 2 * whole / kKills;
  int made = 0;
  const auto kill_after = [&](useconds_t wait) {
    const pid_t writer = ::fork();
    REQUIRE(writer >= 0);
    if (writer == 0) {
      create_house_file(path, every_key_house());
      ::_exit(0);
    }
    ::usleep(wait);
    ::kill(writer, SIGKILL);
    REQUIRE(::waitpid(writer, nullptr, 0) == writer);
    if (!fs::exists(path)) return;
    CHECK(load_house(path) == every_key_house());
    fs::remove(path);
    ++made;
  };
  for (int i = 0; i < kKills; ++i) kill_after(static_cast<useconds_t>(i) * step);
  // A machine that got busier meanwhile is given longer.
  constexpr useconds_t kLongest = 10'000'000;
  for (useconds_t wait = 4 * whole; made == 0 && wait < kLongest; wait *= 2) kill_after(wait);
  MESSAGE(made, " of ", kKills, " houses were made before the kill");
  CHECK(made > 0);
  CHECK(made < kKills);
  create_house_file(path, every_key_house());  // what the killed ones left is not in the way
  CHECK(load_house(path) == every_key_house());
}

// Leaves a file that holds half of a change, and the journal that undoes it: a cache of one page
// makes SQLite write pages before the commit, which never comes.
void cut_off_a_change(const fs::path& path) {
  const int status = in_child([&] {
    SQLite::Database file(path.string(), SQLite::OPEN_READWRITE);
    file.exec("PRAGMA cache_size = 1; PRAGMA cache_spill = 1; BEGIN IMMEDIATE");
    file.exec("UPDATE load SET name = name || ' x'; UPDATE panel SET name = name || ' x'");
    file.exec("UPDATE outlet SET name = name || ' x'; UPDATE finding SET observation = 'x'");
    ::kill(::getpid(), SIGKILL);
    return 0;
  });
  REQUIRE(status == -1);
}

TEST_CASE("store: a reader undoes a change that was cut off") {
  for (const bool check_first : {false, true}) {
    CAPTURE(check_first);
    const Folder folder;
    const fs::path path = folder / "a.house";
    create_house_file(path, every_key_house());
    const std::string before = bytes_of(path);
    cut_off_a_change(path);
    REQUIRE(bytes_of(path) != before);
    REQUIRE(fs::file_size(folder / "a.house-journal") > 0);
    if (check_first) CHECK(check_house_file(path).empty());
    CHECK(load_house(path) == every_key_house());
    CHECK(bytes_of(path) == before);
    CHECK(folder.names() == std::set<std::string>{"a.house"});
  }
}

TEST_CASE("store: a writer undoes a change that was cut off, then makes its own") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  cut_off_a_change(path);
  change_house(path, [](House& house) { house = other_house(); });
  CHECK(load_house(path) == other_house());
}

TEST_CASE("store: a cut-off change is not undone, and not read, without permission to write") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  cut_off_a_change(path);
  const std::string half = bytes_of(path);
  const std::string journal = bytes_of(folder / "a.house-journal");
  fs::permissions(path, fs::perms::owner_read | fs::perms::others_read);
  fs::permissions(folder / "a.house-journal", fs::perms::owner_read | fs::perms::others_read);
  fs::permissions(folder.path(), fs::perms::owner_exec | fs::perms::others_exec);
  const std::string line = path.string() +
                           ": holds a change that was cut off, and undoing it takes write "
                           "permission; check the permissions of the file and of its folder";
  CHECK(in_plain_child([&] {
          try {
            (void)load_house(path);
          } catch (const Error& error) {
            return error.what() == line ? 0 : 1;
          }
          return 2;
        }) == 0);
  fs::permissions(folder.path(), fs::perms::owner_all);
  fs::permissions(path, fs::perms::owner_all);
  fs::permissions(folder / "a.house-journal", fs::perms::owner_all);
  CHECK(bytes_of(path) == half);
  CHECK(bytes_of(folder / "a.house-journal") == journal);
  CHECK(load_house(path) == every_key_house());
}

}  // namespace
}  // namespace evenleg
