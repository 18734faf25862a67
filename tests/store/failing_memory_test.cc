// Memory runs out at every single allocation of a change: the house is the old one or the new one.
#include "tests/store/failing_memory.h"

#include <doctest/doctest.h>

#include <cstdio>
#include <new>

#include "evenleg/store/store.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

House small_house(const std::string& name) {
  House house;
  house.supply.system = "120/240 split-phase";
  house.about["name"] = name;
  house.panels.resize(1);
  house.panels[0].name = "Main";
  house.panels[0].spaces = 4;
  return house;
}

constexpr int kNeither = 3;
constexpr int kUntrue = 4;  // it said that it was done
constexpr int kNothingFailed = 5;

// Every n-th allocation, `step` apart, until none fails any more; 0, or what went wrong, and a line
// with the count.
template <class Fail, class Repair>
int strike_everywhere(const fs::path& path, const char* what, long step, Fail fail, Repair repair) {
  const House one = small_house("One");
  const House two = small_house("Two");
  long refused = 0, out_of_memory = 0;
  for (long n = 1;; n += step) {
    fail(n);
    bool done = false;
    try {
      change_house(path, [](House& house) { house.about["name"] = "Two"; });
      done = true;
    } catch (const Error& error) {
      ++refused;
      if (error.faults().at(0).what.find("not enough memory") != std::string::npos) ++out_of_memory;
    } catch (const std::bad_alloc&) {
      ++refused;
      ++out_of_memory;
    }
    const bool struck = repair();
    const House left = load_house(path);
    if (!(left == one) && !(left == two)) return kNeither;
    if (done && !(left == two)) return kUntrue;
    constexpr long kSome = 16;  // each takes as long as all the rest
    if (n % kSome == 0 && !check_house_file(path).empty()) return kNeither;
    if (left == two) change_house(path, [](House& house) { house.about["name"] = "One"; });
    if (!struck) {
      std::printf("%s: %ld allocations, %ld refused, %ld of them told as memory\n", what, n - 1,
                  refused, out_of_memory);
      std::fflush(stdout);
      return n > 100 && refused > 50 ? 0 : kNothingFailed;
    }
  }
}

TEST_CASE("store: memory that runs out anywhere in SQLite leaves the old house or the new one") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, small_house("One"));
  for (const bool for_good : {false, true}) {
    CHECK(in_child([&] {
            make_sqlite_memory_fail();
            return strike_everywhere(
                path, for_good ? "SQLite, for good" : "SQLite, once", in_full() ? 1 : 5,
                [&](long n) { fail_allocation(n, for_good); }, repair_memory);
          }) == 0);
  }
}

TEST_CASE(
    "store: memory that runs out anywhere in the program leaves the old house or the new one") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, small_house("One"));
  CHECK(in_child([&] { return strike_everywhere(path, "the program", 1, fail_new, repair_new); }) ==
        0);
}

}  // namespace
}  // namespace evenleg
