// The program killed at every call that changes a file, and at random moments, in each of the ways
// in which it writes: the house is the old one or the new one, whole.
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <optional>

#include "evenleg/store/store.h"
#include "tests/hardening/damage.h"
#include "tests/hardening/program.h"

namespace evenleg::hardening {
namespace {

namespace fs = std::filesystem;

// One way of writing: from files as they stand, one command.
struct Scenario {
  std::string name;
  std::vector<Words> first;  // commands that make what it starts from
  Words command;
  const char* input = "";   // standard input
  const char* sample = "";  // a file of an older version that it starts from, instead
};

const std::vector<Scenario>& scenarios() {
  static const Words kNew{"new", "a.house", "--from", "a.toml"};
  static const std::vector<Scenario> kScenarios{
      {"set", {kNew}, {"set", "a.house", "load", "Toaster", "--watts", "1234"}},
      {"add", {kNew}, {"add", "a.house", "load", "Fan", "--at", "Left of sink", "--watts", "80"}},
      {"remove", {kNew}, {"remove", "a.house", "reading", "#1"}},
      {"import", {}, kNew},
      {"readings added", {kNew}, {"readings", "a.house", "--add", "more.csv"}},
      {"readings replaced", {kNew}, {"readings", "a.house", "--replace", "more.csv"}},
      {"plan applied", {kNew}, {"balance", "a.house", "--no-audit", "--apply", "1"}},
      {"plan taken back",
       {kNew, {"balance", "a.house", "--no-audit", "--apply", "1"}},
       {"balance", "a.house", "--no-audit", "--undo"}},
      {"visit", {kNew}, {"visit", "a.house"}, "118.9\n121.8\n240.6\n12\n15\n4\n"},
      {"migration", {}, {"set", "a.house", "load", "Toaster", "--watts", "1234"}, "", "v1.house"},
  };
  return kScenarios;
}

class Stage {
 public:
  Stage(const Scenario& scenario, const Folder& folder) : scenario_(scenario), folder_(folder) {
    const std::string source = variable("EVENLEG_SOURCE_DIR");
    put_text(folder_ / "a.toml", text_of(source + "/data/fernhill-cottage.toml"));
    put_text(folder_ / "more.csv", "at,l1_n_volts,l2_n_volts\nMain,118.5,121.5\nMain,117,123\n");
    put_text(folder_ / "input", scenario.input);
    if (*scenario.sample != 0) {
      put_text(folder_ / "a.house", text_of(source + "/tests/store/samples/" + scenario.sample));
    }
    for (const Words& command : scenario.first) {
      const Ran ran = run(command, folder_.path());
      CAPTURE(ran.err);
      REQUIRE(ran.status == 0);
    }
    if (fs::exists(house())) bytes_ = text_of(house());
    names_ = folder_.names();
    states_.push_back(state());
    const auto start = std::chrono::steady_clock::now();
    wait_for(begin({}));
    seconds_ = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    // A visit writes answer by answer: each ends in a state of its own.
    std::string answers;
    for (const char* c = scenario.input; *c != 0; ++c) {
      answers += *c;
      if (*c != '\n') continue;
      reset();
      put_text(folder_ / "part", answers);
      wait_for(start_with("part", {}));
      states_.push_back(state());
    }
    if (*scenario.input == 0) states_.push_back(state());
    reset();
  }

  [[nodiscard]] double seconds() const { return seconds_; }
  [[nodiscard]] pid_t begin(const Words& more) const { return start_with("input", more); }
  // Something is written at all: else the test could not fail.
  [[nodiscard]] bool writes() const { return !(states_.front() == states_.back()); }

  // Back to the start.
  void reset() const {
    for (const std::string& name : folder_.names()) {
      if (!std::binary_search(names_.begin(), names_.end(), name)) fs::remove(folder_ / name);
    }
    fs::remove(house());
    if (bytes_) put_text(house(), *bytes_);
  }

  // What a killed run left: the index of the state that it is, or nothing.
  [[nodiscard]] std::optional<std::size_t> left() const {
    const auto now = state();
    if (now && !check_house_file(house()).empty()) return std::nullopt;
    const auto found = std::find(states_.begin(), states_.end(), now);
    if (found == states_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - states_.begin());
  }

 private:
  [[nodiscard]] fs::path house() const { return folder_ / "a.house"; }
  [[nodiscard]] std::optional<House> state() const {
    if (!fs::exists(house())) return std::nullopt;
    return load_house(house());
  }
  [[nodiscard]] pid_t start_with(const char* input, const Words& more) const {
    return start(scenario_.command, folder_.path(), folder_ / input, more);
  }

  const Scenario& scenario_;
  const Folder& folder_;
  std::optional<std::string> bytes_;  // of the house at the start; none: there is none
  std::vector<std::string> names_;
  std::vector<std::optional<House>> states_;  // in the order in which they come
  double seconds_ = 0;
};

// In a build with the address sanitizer, which else insists on being loaded first.
const std::string kBehindSanitizer = "ASAN_OPTIONS=verify_asan_link_order=0";

struct Tally {
  int kills = 0, old_kept = 0, further = 0;
};

void judge(const Stage& stage, bool killed, Tally& tally) {
  const auto left = stage.left();
  CHECK(left);
  if (!killed || !left) return;
  ++tally.kills;
  ++(*left == 0 ? tally.old_kept : tally.further);
}

TEST_CASE("killed at every call that changes a file, the house is the old or the new one") {
  const std::string shim = variable("EVENLEG_KILL_AT_LIBRARY");
  Tally all;
  for (const Scenario& scenario : scenarios()) {
    CAPTURE(scenario.name);
    const Folder folder;
    const Stage stage(scenario, folder);
    REQUIRE(stage.writes());
    Tally tally;
    for (const std::string how : {"before", "half", "after"}) {
      // One command by every call; the others by some, unless the long form is asked for.
      const int step = scenario.name == "set" ? 1 : rounds(scenario.first.empty() ? 41 : 11, 1);
      bool killed = true;
      for (int n = 1; killed; n += step) {
        CAPTURE(how);
        CAPTURE(n);
        stage.reset();
        killed = !wait_for(stage.begin({"LD_PRELOAD=" + shim, kBehindSanitizer,
                                        fmt::format("EVENLEG_KILL_AT={}", n),
                                        fmt::format("EVENLEG_KILL_HOW={}", how)}));
        judge(stage, killed, tally);
      }
    }
    MESSAGE(scenario.name, ": ", tally.kills, " kills, ", tally.old_kept, " with the old house, ",
            tally.further, " with a newer one");
    CHECK(tally.old_kept > 0);
    // The last call of a change, the journal's removal, is the one that makes it whole.
    if (rounds(0, 1) == 1 || scenario.name == "set") CHECK(tally.further > 0);
    all.kills += tally.kills;
  }
  MESSAGE(all.kills, " kills at calls");
}

TEST_CASE("killed at any moment, the house is the old or the new one") {
  Tally all;
  const int each = rounds(8, 200);
  Dice dice(1);
  for (const Scenario& scenario : scenarios()) {
    CAPTURE(scenario.name);
    const Folder folder;
    const Stage stage(scenario, folder);
    for (int i = 0; i < each; ++i) {
      CAPTURE(i);
      stage.reset();
      // From its start to a fifth beyond its end, evenly.
      constexpr double kBeyond = 1.2, kMicro = 1e6;
      std::uniform_real_distribution<double> pause(0, kBeyond * stage.seconds() * kMicro);
      const pid_t running = stage.begin({});
      ::usleep(static_cast<useconds_t>(pause(dice)));
      ::kill(running, SIGKILL);
      judge(stage, !wait_for(running), all);
    }
  }
  MESSAGE(all.kills, " kills at random moments: ", all.old_kept, " with the old house, ",
          all.further, " with a newer one");
  CHECK(all.kills > each);
  CHECK(all.old_kept > 0);
}

}  // namespace
}  // namespace evenleg::hardening
