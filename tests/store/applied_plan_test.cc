// A plan that was written into a house stays on record with it: both or neither, whenever the
// writer is killed.
#include <doctest/doctest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <random>
#include <stdexcept>

#include "evenleg/store/store.h"
#include "src/store/schema.h"
#include "tests/store/store_fixture.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace store_test;

const AppliedPlan& sample_plan() {
  static const AppliedPlan kPlan{{"circuit", "Den", "space", "3", "6"},
                                 {"circuit", "Den", "legs", {}, "L1"},
                                 {"load", "Lamp, \"old\"", "connect", "L2-N", {}}};
  return kPlan;
}

std::vector<AppliedPlan> plans_in(const fs::path& path) {
  std::vector<AppliedPlan> found;
  change_house_and_plans(path, [&](House&, std::vector<AppliedPlan>& plans) { found = plans; });
  return found;
}

// The house's name stands for what the plan changed in it.
void apply_or_undo(const fs::path& path) {
  change_house_and_plans(path, [](House& house, std::vector<AppliedPlan>& plans) {
    const bool applied = !plans.empty();
    house.about["name"] = applied ? "as it was" : "with the plan";
    if (applied) {
      plans.pop_back();
    } else {
      plans.push_back(sample_plan());
    }
  });
}

TEST_CASE("store: applied plans come back as they were written, oldest first") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  CHECK(plans_in(path).empty());
  const AppliedPlan second{{"circuit", "Hall", "space", {}, "12"}};
  change_house_and_plans(path, [&](House&, std::vector<AppliedPlan>& plans) {
    plans = {sample_plan(), second};
  });
  CHECK(plans_in(path) == std::vector<AppliedPlan>{sample_plan(), second});
  CHECK(load_house(path) == every_key_house());
  CHECK(check_house_file(path).empty());
  change_house(path, [](House& house) { house.about["name"] = "Renamed"; });
  CHECK(plans_in(path) == std::vector<AppliedPlan>{sample_plan(), second});
  change_house_and_plans(path, [](House&, std::vector<AppliedPlan>& plans) { plans.pop_back(); });
  CHECK(plans_in(path) == std::vector<AppliedPlan>{sample_plan()});
}

TEST_CASE("store: an exception leaves house and plans as they were") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const std::string before = bytes_of(path);
  CHECK_THROWS_AS(change_house_and_plans(path,
                                         [](House& house, std::vector<AppliedPlan>& plans) {
                                           house.loads.clear();
                                           plans.push_back(sample_plan());
                                           throw std::logic_error("changed its mind");
                                         }),
                  std::logic_error);
  CHECK(bytes_of(path) == before);
}

TEST_CASE("store: a plan that changes nothing cannot be on record, and its house is not written") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  const auto apply = [&](const AppliedPlan& plan) {
    change_house_and_plans(path, [&](House& house, std::vector<AppliedPlan>& plans) {
      house.about["name"] = "with the plan";
      plans.push_back(plan);
    });
  };
  CHECK_THROWS_AS(apply({{"circuit", "Den", "space", "3", "3"}}), Error);
  CHECK_THROWS_AS(apply({{"circuit", "Den", "poles", "1", "2"}}), Error);
  CHECK_THROWS_AS(apply({{"panel", "Main", "space", "1", "2"}}), Error);
  CHECK(load_house(path) == every_key_house());
  CHECK(plans_in(path).empty());
}

TEST_CASE("store: a file of version 3 has no applied plans, and takes some") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  std::string sql;
  for (int step = 0; step < 3; ++step) sql += migrations()[static_cast<std::size_t>(step)];
  sql += "INSERT INTO supply VALUES (0, '120/240 split-phase'); PRAGMA user_version = 3;";
  run_sql(path, sql + "PRAGMA application_id = " + std::to_string(kApplicationId));
  CHECK(check_house_file(path).empty());
  change_house_and_plans(path, [](House&, std::vector<AppliedPlan>& plans) {
    CHECK(plans.empty());
    plans.push_back(sample_plan());
  });
  CHECK(plans_in(path) == std::vector<AppliedPlan>{sample_plan()});
  CHECK(folder.names() == std::set<std::string>{"a.house", "a.house.v3-backup"});
}

TEST_CASE("store: a damaged record of plans is told by the check") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  create_house_file(path, every_key_house());
  run_sql(path, "DROP TABLE applied_plan");
  CHECK(check_house_file(path) ==
        std::vector<std::string>{
            "is damaged: its table applied_plan is missing; restore a copy of it"});
}

TEST_CASE("store: a writer killed while it applies or undoes leaves both or neither") {
  const Folder folder;
  const fs::path path = folder / "a.house";
  House house = every_key_house();
  house.about["name"] = "as it was";
  create_house_file(path, house);
  const auto start = std::chrono::steady_clock::now();
  apply_or_undo(path);
  const auto taken = std::chrono::duration_cast<std::chrono::microseconds>(
      std::chrono::steady_clock::now() - start);
  constexpr int kKills = 40;
  constexpr unsigned kSeed = 4;
  std::mt19937 random(kSeed);
  std::uniform_int_distribution<useconds_t> pause(0, 3 * static_cast<useconds_t>(taken.count()));
  int times_applied = 0;
  for (int i = 0; i < kKills; ++i) {
    CAPTURE(i);
    const pid_t writer = ::fork();
    REQUIRE(writer >= 0);
    while (writer == 0) apply_or_undo(path);
    ::usleep(pause(random));
    REQUIRE(::kill(writer, SIGKILL) == 0);
    REQUIRE(::waitpid(writer, nullptr, 0) == writer);
    const bool applied = load_house(path).about.at("name") == "with the plan";
    CHECK(plans_in(path) ==
          (applied ? std::vector<AppliedPlan>{sample_plan()} : std::vector<AppliedPlan>{}));
    CHECK(check_house_file(path).empty());
    if (applied) ++times_applied;
  }
  CHECK(times_applied > 0);
  CHECK(times_applied < kKills);
}

}  // namespace
}  // namespace evenleg
