// What a plan changed is put back to the letter, on each example house and with every plan of it.
#include "src/cli/apply_plan.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>
#include <functional>

#include "evenleg/balance/balance.h"
#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "src/tables/embedded.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

// A folder of its own, removed at the end.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "evenleg-apply-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }
  [[nodiscard]] fs::path house() const { return path_ / "a.house"; }

 private:
  fs::path path_;
};

const Tables& tables() {
  static const Tables kTables = load_tables();
  return kTables;
}

House example(const std::string& name) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.name == name + ".toml") {
      return read_description(file.text, name, vocabulary(tables()));
    }
  }
  FAIL("there is no example of that name");
  return {};
}

// Circuit "A" is half of a tandem breaker and says its leg; its load names that leg.
House tandem() {
  return read_description(R"(
[house]
name = "Tandem"
[supply]
system = "120/240 split-phase"
[[panel]]
name = "Main"
spaces = 4
[[circuit]]
name = "A"
space = 1
legs = ["L1"]
[[circuit]]
name = "B"
space = 1
legs = ["L1"]
[[circuit]]
name = "C"
space = 3
[[load]]
name = "Heater"
at = "A"
connect = "L1-N"
watts = 1200
[[load]]
name = "Lamp"
at = "C"
watts = 60
)",
                          "tandem.toml", vocabulary(tables()));
}

std::string refusal(const std::function<void()>& call) {
  try {
    call();
  } catch (const Error& error) {
    return error.what();
  }
  return "nothing was refused";
}

TEST_CASE("apply: every plan of every example is applied and taken back to the letter") {
  int plans = 0;
  std::vector<House> houses{tandem()};
  for (const char* name : {"fernhill-cottage", "coopers-quay-apartment", "amselgrund"}) {
    houses.push_back(example(name));
  }
  for (const House& house : houses) {
    const Balance result = balance(house, tables());
    const Folder folder;
    create_house_file(folder.house(), house);
    for (const BalancePlan& plan : result.plans) {
      CAPTURE(plan.moves);
      const House planned = with_plan(house, plan);
      CHECK(planned != house);
      (void)apply_plan(folder.house(), house, planned, vocabulary(tables()));
      CHECK(load_house(folder.house()) == planned);
      (void)undo_plan(folder.house(), vocabulary(tables()));
      CHECK(load_house(folder.house()) == house);
      ++plans;
    }
  }
  CHECK(plans >= static_cast<int>(houses.size()));
}

TEST_CASE("apply: keys that were absent, lists of legs and connections come back") {
  const House house = tandem();
  House planned = house;
  planned.circuits[0].space = 2;
  planned.circuits[0].legs.clear();
  planned.circuits[1].legs = {"L2", "L1"};
  planned.circuits[2].space.reset();
  planned.circuits[2].legs = {"L2"};
  planned.loads[0].connect.reset();
  planned.loads[1].connect = "L2-N";
  House back = planned;
  take_back(changes_between(house, planned), back, "a.house");
  CHECK(back == house);
}

TEST_CASE("apply: a house that was changed meanwhile is left as it is") {
  const Folder folder;
  const House house = tandem();
  create_house_file(folder.house(), house);
  House planned = house;
  planned.circuits[2].space = 4;
  change_house(folder.house(), [](House& changed) { changed.loads[1].watts = 40; });
  const House now = load_house(folder.house());
  CHECK(refusal([&] { (void)apply_plan(folder.house(), house, planned, vocabulary(tables())); }) ==
        folder.house().string() +
            ": was changed while the plan was worked out; run the command again");
  CHECK(load_house(folder.house()) == now);
  CHECK(refusal([&] { (void)undo_plan(folder.house(), vocabulary(tables())); }) ==
        folder.house().string() + ": holds no applied plan to take back; --undo follows --apply N");
}

TEST_CASE("apply: plans are taken back latest first, and none where a key has changed since") {
  const Folder folder;
  const House house = tandem();
  create_house_file(folder.house(), house);
  House one = house;
  one.circuits[2].space = 4;
  House two = one;
  two.circuits[2].space = 2;
  (void)apply_plan(folder.house(), house, one, vocabulary(tables()));
  (void)apply_plan(folder.house(), one, two, vocabulary(tables()));
  change_house(folder.house(), [](House& changed) { changed.circuits[2].space = 3; });
  CHECK(
      refusal([&] { (void)undo_plan(folder.house(), vocabulary(tables())); }) ==
      folder.house().string() +
          ": the plan cannot be taken back: space of circuit \"C\" is \"3\" now, and the plan "
          "had made it \"2\"; change it back with `evenleg set`, or move the circuits one by one");
  CHECK(load_house(folder.house()) == house);
  change_house(folder.house(), [](House& changed) { changed.circuits[2].space = 2; });
  (void)undo_plan(folder.house(), vocabulary(tables()));
  CHECK(load_house(folder.house()) == one);
  (void)undo_plan(folder.house(), vocabulary(tables()));
  CHECK(load_house(folder.house()) == house);
}

}  // namespace
}  // namespace evenleg
