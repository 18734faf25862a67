// The disk fails at every single call of a change: the house is the old one or the new one, and
// what the call says is true.
#include "tests/store/faulty_disk.h"

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <map>

#include "evenleg/store/store.h"
#include "src/store/format.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

House before() { return every_key_house(); }

House after() {
  House house = every_key_house();
  house.about["name"] = "After";
  house.loads[0].on = !house.loads[0].on;
  house.findings.resize(house.findings.size() + 30, {{}, "a long list", {}, {}, {}});
  return house;
}

enum class Outcome { Done, Refused };

// One Error(File) about the file or a file beside it, with something to do about it.
template <class Call>
Outcome outcome_of(const fs::path& path, Call call) {
  try {
    call();
  } catch (const Error& error) {
    CHECK(error.kind() == ErrorKind::File);
    REQUIRE(error.faults().size() == 1);
    CHECK(error.faults()[0].where.starts_with(path.string()));
    CHECK_FALSE(error.faults()[0].what.empty());
    CHECK_FALSE(error.faults()[0].remedy.empty());
    return Outcome::Refused;
  }
  return Outcome::Done;
}

struct Tally {
  long calls = 0, refused = 0, kept = 0, changed_though_refused = 0;
  std::map<std::string, int> struck;

  [[nodiscard]] std::string words() const {
    std::string text = std::to_string(calls) + " calls, " + std::to_string(refused) + " refused, " +
                       std::to_string(kept) + " of them with the old house, " +
                       std::to_string(changed_though_refused) + " with the new one;";
    for (const auto& [what, count] : struck) text += " " + what + " " + std::to_string(count);
    return text;
  }
};

// A change with the n-th call failing, for every n until none fails any more.
Tally strike_everywhere(DiskFault fault, bool for_good) {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, before());
  const std::string whole = bytes_of(path);
  FaultyDisk disk;
  Tally tally;
  for (long n = 1;; ++n) {
    CAPTURE(n);
    fs::remove(folder / "a.house-journal");
    put_bytes(path, whole);
    disk.fail_at(n, fault, for_good);
    const Outcome outcome =
        outcome_of(path, [&] { change_house(path, [](House& house) { house = after(); }); });
    const bool struck = disk.repair();
    CAPTURE(disk.struck());
    const House left = load_house(path);
    CHECK((left == before() || left == after()));
    if (outcome == Outcome::Done) CHECK(left == after());
    // Nothing stands in the way of the next change.
    constexpr long kSome = 8;  // each takes as long as all the rest
    if (n % kSome == 0 || !struck) {
      CHECK(check_house_file(path).empty());
      change_house(path, [](House& house) { house.about["name"] = "Next"; });
      CHECK(load_house(path).about["name"] == "Next");
      CHECK(folder.names() == std::set<std::string>{"a.house"});
    }
    if (!struck) break;
    ++tally.calls;
    ++tally.struck[disk.struck()];
    if (outcome == Outcome::Done) continue;
    ++tally.refused;
    ++(left == before() ? tally.kept : tally.changed_though_refused);
  }
  return tally;
}

TEST_CASE("store: a disk that fails at any call of a change leaves the old house or the new one") {
  for (const DiskFault fault : {DiskFault::Io, DiskFault::Full}) {
    for (const bool for_good : {false, true}) {
      if (!in_full() && for_good != (fault == DiskFault::Full)) continue;
      const Tally tally = strike_everywhere(fault, for_good);
      MESSAGE(std::string(fault == DiskFault::Full ? "full" : "broken"),
              std::string(for_good ? " for good: " : " once: "), tally.words());
      for (const char* call :
           {"xOpen", "xRead", "xWrite", "xSync", "xLock", "xDelete", "xAccess"}) {
        CAPTURE(call);
        CHECK(tally.struck.contains(call));
      }
      CHECK(tally.refused > tally.calls / 2);
    }
  }
}

TEST_CASE("store: a disk that fails at any call of making a house leaves none, or the whole") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  FaultyDisk disk;
  long calls = 0;
  for (long n = 1;; ++n) {
    CAPTURE(n);
    disk.fail_at(n, DiskFault::Io, n % 2 == 0);
    const Outcome outcome = outcome_of(path, [&] { create_house_file(path, before()); });
    const bool struck = disk.repair();
    CHECK(fs::exists(path) == (outcome == Outcome::Done));
    if (outcome == Outcome::Done) CHECK(load_house(path) == before());
    fs::remove(path);
    CHECK(folder.names().empty());
    if (!struck) break;
    ++calls;
  }
  MESSAGE(calls, " calls");
  CHECK(calls > 20);
}

TEST_CASE("store: a disk that fails at any call of reading changes nothing") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, before());
  const std::string whole = bytes_of(path);
  FaultyDisk disk;
  long calls = 0;
  for (long n = 1;; ++n) {
    CAPTURE(n);
    disk.fail_at(n, DiskFault::Io, n % 2 == 0);
    House read;
    const Outcome outcome = outcome_of(path, [&] { read = load_house(path); });
    const bool struck = disk.repair();
    if (outcome == Outcome::Done) CHECK(read == before());
    disk.fail_at(n, DiskFault::Io, false);
    (void)outcome_of(path, [&] { (void)check_house_file(path); });
    disk.repair();
    CHECK(bytes_of(path) == whole);
    CHECK(folder.names() == std::set<std::string>{"a.house"});
    if (!struck) break;
    ++calls;
  }
  MESSAGE(calls, " calls");
  CHECK(calls > 10);
}

// The migration's own calls as well: the backup is whole, or not there.
TEST_CASE(
    "store: a disk that fails at any call of a migration leaves the old file or the new one") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  const Format older{migrations().first(migrations().size() - 1)};
  House house;
  house.supply.system = "120/240 split-phase";
  house.about["name"] = "Old";
  create_house_file(path, house, older);
  const std::string whole = bytes_of(path);
  const std::string backup = "a.house.v" + std::to_string(older.version()) + "-backup";
  FaultyDisk disk;
  long calls = 0, refused = 0;
  for (long n = 1;; ++n) {
    CAPTURE(n);
    for (const std::string& name : folder.names()) fs::remove(folder / name);
    put_bytes(path, whole);
    disk.fail_at(n, n % 3 == 0 ? DiskFault::Full : DiskFault::Io, n % 2 == 0);
    const Outcome outcome =
        outcome_of(path, [&] { change_house(path, [](House& h) { h.about["name"] = "New"; }); });
    const bool struck = disk.repair();
    House wanted = house;
    const House left = load_house(path);
    wanted.about["name"] = "New";
    CHECK((left == house || left == wanted));
    CHECK(check_house_file(path).empty());
    if (outcome == Outcome::Done) CHECK(left == wanted);
    if (left == wanted) REQUIRE(fs::exists(folder / backup));
    if (fs::exists(folder / backup)) CHECK(load_house(folder / backup) == house);
    if (!struck) break;
    ++calls;
    if (outcome == Outcome::Refused) ++refused;
  }
  MESSAGE(calls, " calls, ", refused, " refused");
  CHECK(refused > 20);
}

TEST_CASE("store: over a slow disk two writers wait for each other, and nothing is lost") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  House house;
  house.supply.system = "120/240 split-phase";
  create_house_file(path, house);
  const auto write_some = [&] {
    FaultyDisk disk;
    disk.slow_down();
    constexpr int kEach = 6;
    for (int i = 0; i < kEach; ++i) {
      change_house(path, [&](House& changed) {
        changed.findings.push_back({{}, std::to_string(i), {}, {}, {}});
      });
      (void)load_house(path);
    }
    return disk.calls() > kEach ? 0 : 1;
  };
  CHECK(in_child([&] {
          return in_child([&] {
            const pid_t other = ::fork();
            if (other == 0) ::_exit(write_some());
            const int mine = write_some();
            int status = -1;
            return ::waitpid(other, &status, 0) == other && status == 0 ? mine : 2;
          });
        }) == 0);
  CHECK(load_house(path).findings.size() == 12);
  CHECK(check_house_file(path).empty());
}

TEST_CASE(
    "store: a house that vanishes, or is replaced, while it is changed is told, not made anew") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, before());
  CHECK(outcome_of(path, [&] {
          change_house(path, [&](House& house) {
            fs::remove(path);
            house = after();
          });
        }) == Outcome::Refused);
  CHECK_FALSE(fs::exists(path));
}

}  // namespace
}  // namespace evenleg
