// A visit killed at any prompt: the house file is sound and holds every answer given so far.
#include <doctest/doctest.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "evenleg/describe/describe.h"
#include "evenleg/house/fields.h"
#include "evenleg/store/store.h"
#include "evenleg/tables/tables.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kHouse = R"(
format = 1
house = {name = "Larkrise"}
supply = {system = "120/240 split-phase"}
panel = [{name = "Main", spaces = 12}]
circuit = [{name = "Den", space = 1}, {name = "Galley", space = 3}]
outlet = [{name = "Den wall", on = "Den"}, {name = "Worktop", on = "Galley"}]
load = [
  {name = "Heater", at = "Den wall", watts = 1450},
  {name = "Iron", at = "Worktop", watts = 1130},
]
)";

// The program, its input and output in pipes.
class Running {
 public:
  explicit Running(const fs::path& house) {
    int in[2], out[2];
    REQUIRE(::pipe(in) == 0);
    REQUIRE(::pipe(out) == 0);
    child_ = ::fork();
    REQUIRE(child_ >= 0);
    if (child_ == 0) {
      ::dup2(in[0], STDIN_FILENO);
      ::dup2(out[1], STDOUT_FILENO);
      ::close(in[1]);
      ::close(out[0]);
      const char* program = std::getenv("EVENLEG_PROGRAM");
      ::execl(program, program, "visit", house.c_str(), static_cast<char*>(nullptr));
      ::_exit(127);
    }
    ::close(in[0]);
    ::close(out[1]);
    to_ = in[1];
    from_ = out[0];
  }
  ~Running() {
    ::kill(child_, SIGKILL);
    ::waitpid(child_, nullptr, 0);
    ::close(to_);
    ::close(from_);
  }
  Running(const Running&) = delete;
  Running& operator=(const Running&) = delete;

  void say(const std::string& line) {
    const std::string text = line + "\n";
    REQUIRE(::write(to_, text.data(), text.size()) == static_cast<ssize_t>(text.size()));
  }
  // Waits for a prompt, which ends what is printed so far with ": "; whether it is this one.
  [[nodiscard]] bool prompts(const std::string& wanted) {
    constexpr int kPatience = 20000;  // ms, on a loaded machine
    while (!seen_.ends_with(": ")) {
      pollfd waiting{from_, POLLIN, 0};
      if (::poll(&waiting, 1, kPatience) <= 0) return false;
      constexpr std::size_t kRoom = 4096;
      char text[kRoom];
      const ssize_t got = ::read(from_, text, kRoom);
      if (got <= 0) return false;
      seen_.append(text, static_cast<std::size_t>(got));
    }
    const bool good = seen_.ends_with(wanted + ": ");
    seen_.clear();
    return good;
  }

 private:
  pid_t child_ = -1;
  int to_ = -1;
  int from_ = -1;
  std::string seen_;
};

// An answer and what the house then holds of it.
struct Row {
  const char* step;  // "Main: nothing on": place and step; "" for a field of [visit]
  const char* prompt;
  const char* typed;
  const char* key;  // "" for a yes
  Value kept;
};

using Names = std::vector<std::string>;

std::vector<Row> visit_rows() {
  const auto text = [](const char* one) { return Value(std::string(one)); };
  const Names heater{"Heater"};
  return {
      {"", "own words", "see-saw", "complaint", text("see-saw")},
      {"", "whole house", "whole house", "extent", text("whole house")},
      {"", "while others brighten", "both", "light", text("both")},
      {"", "since when", "evenings", "when", text("evenings")},
      {"", "if any", "iron", "follows", text("iron")},
      {"", "or lasting", "lasting", "lasting", text("lasting")},
      {"", "not asked)", "no", "neighbours", text("no")},
      {"", "failed equipment", "none", "signs", text("none")},
      {"", "taken out or replaced", "none", "recent_work", text("none")},
      {"", "which clamp", "hand meter", "instrument", text("hand meter")},
      {"", "low impedance", "low", "meter_input", text("low impedance")},
      {"", "volts, percent of reading", "0,7 %", "accuracy_percent", text("0.7")},
      {"", "added to that", "200 mV", "accuracy_volts", text("0.2")},
      {"", "amperes, percent of reading", "2", "amps_accuracy_percent", text("2")},
      {"Main: nothing on", "L1 to neutral, volts", "121.2", "l1_n_volts", 121.2},
      {"Main: nothing on", "L2 to neutral, volts", "121,3 V", "l2_n_volts", 121.3},
      {"Main: nothing on", "L1 to L2, volts", "242.5", "l1_l2_volts", 242.5},
      {"Main: nothing on", "L1, amperes", "0.1", "l1_amps", 0.1},
      {"Main: nothing on", "L2, amperes", "250 mA", "l2_amps", 0.25},
      {"Main: nothing on", "Neutral, amperes", "0.15", "neutral_amps", 0.15},
      {"Main: known load on L1", "leave this step out", "yes", "", {}},
      {"Main: known load on L1", "numbers from ?)", "Heater", "on", heater},
      {"Main: known load on L1", "L1, amperes", "12.1", "l1_amps", 12.1},
      {"Main: known load on L1", "L2, amperes", "0.2", "l2_amps", 0.2},
      {"Main: known load on L1", "Neutral, amperes", "11.9", "neutral_amps", 11.9},
      {"Main: known load on L1", "L1 to neutral, volts", "117.5", "l1_n_volts", 117.5},
      {"Main: known load on L1", "L2 to neutral, volts", "124.9", "l2_n_volts", 124.9},
      {"Main: known load on L1", "L1 to L2, volts", "242.4", "l1_l2_volts", 242.4},
      {"Main: known load on L2", "leave this step out", "yes", "", {}},
      {"Main: known load on L2", "numbers from ?)", "iron", "on", Names{"Iron"}},
      {"Main: known load on L2", "L1, amperes", "0.1", "l1_amps", 0.1},
      {"Main: known load on L2", "L2, amperes", "9.4", "l2_amps", 9.4},
      {"Main: known load on L2", "Neutral, amperes", "9.3", "neutral_amps", 9.3},
      {"Main: known load on L2", "L1 to neutral, volts", "124.1", "l1_n_volts", 124.1},
      {"Main: known load on L2", "L2 to neutral, volts", "118.3", "l2_n_volts", 118.3},
      {"Main: known load on L2", "L1 to L2, volts", "242.4", "l1_l2_volts", 242.4},
      {"Main: known loads on all legs", "leave this step out", "yes", "", {}},
      {"Main: known loads on all legs", "numbers from ?)", "1, 2", "on", Names{"Heater", "Iron"}},
      {"Main: known loads on all legs", "L1, amperes", "12.1", "l1_amps", 12.1},
      {"Main: known loads on all legs", "L2, amperes", "9.5", "l2_amps", 9.5},
      {"Main: known loads on all legs", "Neutral, amperes", "2.6", "neutral_amps", 2.6},
      {"Main: known loads on all legs", "L1 to neutral, volts", "120.3", "l1_n_volts", 120.3},
      {"Main: known loads on all legs", "L2 to neutral, volts", "121.9", "l2_n_volts", 121.9},
      {"Main: known loads on all legs", "L1 to L2, volts", "242.2", "l1_l2_volts", 242.2},
      {"Main: known loads on all legs", "conductor, amperes", "0.4", "electrode_amps", 0.4},
      {"Main: known loads on all legs", "bond, amperes", "1.1", "water_pipe_amps", 1.1},
      {"Main: main off", "leave this out", "yes", "", {}},
      {"Main: main off", "conductor, amperes", "0", "electrode_amps", 0.0},
      {"Main: main off", "bond, amperes", "0.9", "water_pipe_amps", 0.9},
      {"", "Enter for none", "den", "places_read", text("Den wall")},
      {"Den wall: nothing on", "L1 to neutral, volts", "121.1", "l1_n_volts", 121.1},
      {"Den wall: nothing on", "Neutral to ground, volts", "20 mV", "neutral_ground_volts", 0.02},
      {"Den wall: nothing on", "L1 to ground, volts", "121.1", "l1_ground_volts", 121.1},
      {"Den wall: nothing on", "L1, amperes", "0", "l1_amps", 0.0},
      {"Den wall: nothing on", "Neutral, amperes", "0", "neutral_amps", 0.0},
      {"Den wall: known load on L1", "leave this step out", "yes", "", {}},
      {"Den wall: known load on L1", "numbers from ?)", "heater", "on", heater},
      {"Den wall: known load on L1", "L1, amperes", "12", "l1_amps", 12.0},
      {"Den wall: known load on L1", "Neutral, amperes", "12", "neutral_amps", 12.0},
      {"Den wall: known load on L1", "L1 to neutral, volts", "114.2", "l1_n_volts", 114.2},
      {"Den wall: known load on L1", "Neutral to ground, volts", "1.9", "neutral_ground_volts",
       1.9},
      {"Den wall: known load on L1", "L1 to ground, volts", "116.1", "l1_ground_volts", 116.1},
  };
}

const Field<Reading>& reading_field(std::string_view key) {
  const auto fields = fields_of<Reading>();
  const auto found = std::find_if(fields.begin(), fields.end(),
                                  [&](const Field<Reading>& field) { return field.key == key; });
  REQUIRE(found != fields.end());
  return *found;
}

void keep(const Row& row, House& house) {
  if (*row.key == 0) return;
  const std::string step = row.step;
  if (step.empty()) {
    house.visit[row.key] = std::get<std::string>(row.kept);
    return;
  }
  const std::size_t colon = step.find(": ");
  const std::string place = step.substr(0, colon);
  const std::string label = "visit" + step.substr(colon);
  if (house.readings.empty() || house.readings.back().at != place ||
      house.readings.back().label != label) {
    Reading reading;
    reading.at = place;
    reading.label = label;
    reading.main_off = label == "visit: main off";
    reading.instrument = "hand meter";
    reading.meter_input = "low impedance";
    reading.accuracy_percent = 0.7;
    reading.accuracy_volts = 0.2;
    reading.amps_accuracy_percent = 2;
    house.readings.push_back(reading);
  }
  reading_field(row.key).set(house.readings.back(), row.kept);
}

House without_times(House house) {
  for (Reading& reading : house.readings) {
    CHECK(reading.time.has_value());
    reading.time.reset();
  }
  return house;
}

class Folder {
 public:
  Folder() { fs::create_directories(path_); }
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] fs::path operator/(const std::string& name) const { return path_ / name; }

 private:
  fs::path path_ = fs::temp_directory_path() / ("evenleg-visit-" + std::to_string(::getpid()));
};

House larkrise() { return read_description(kHouse, "house", vocabulary(load_tables())); }

// Each visit goes on from the file that the one killed before it left, at the first question of the
// step, and is killed one answer further.
TEST_CASE("a visit killed at any prompt loses nothing, and the next one goes on from there") {
  REQUIRE(std::getenv("EVENLEG_PROGRAM") != nullptr);
  const Folder folder;
  const fs::path path = folder / "larkrise.house";
  House kept = larkrise();
  create_house_file(path, kept);
  const std::vector<Row> rows = visit_rows();
  std::size_t step = 0;  // its first row
  for (std::size_t last = 0; last < rows.size(); ++last) {
    CAPTURE(last);
    const bool same_step = *rows[last].step != 0 && rows[last].step == std::string(rows[step].step);
    if (!same_step) step = last;
    {
      Running visit(path);
      for (std::size_t r = step; r <= last; ++r) {
        CAPTURE(rows[r].prompt);
        REQUIRE(visit.prompts(rows[r].prompt));
        visit.say(rows[r].typed);
      }
      REQUIRE(visit.prompts(last + 1 < rows.size() ? rows[last + 1].prompt : "Enter for none"));
    }
    keep(rows[last], kept);
    CHECK(check_house_file(path).empty());
    CHECK(without_times(load_house(path)) == kept);
  }
}

TEST_CASE("a visit killed while it keeps an answer has kept it whole or not at all") {
  REQUIRE(std::getenv("EVENLEG_PROGRAM") != nullptr);
  const Folder folder;
  const House before = larkrise();
  House after = before;
  after.visit["complaint"] = "see-saw";
  constexpr int kKills = 40;
  constexpr std::chrono::microseconds kLater{400};  // an answer is kept within a few milliseconds
  for (int kill = 0; kill < kKills; ++kill) {
    CAPTURE(kill);
    const fs::path path = folder / (std::to_string(kill) + ".house");
    create_house_file(path, before);
    {
      Running visit(path);
      REQUIRE(visit.prompts("own words"));
      visit.say("see-saw");
      std::this_thread::sleep_for(kill * kLater);
    }
    const House found = load_house(path);
    CHECK((found == before || found == after));
    CHECK(check_house_file(path).empty());
  }
}

}  // namespace
}  // namespace evenleg
