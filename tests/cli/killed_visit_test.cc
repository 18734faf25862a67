// A visit killed at any prompt: the house file is sound and holds every answer given so far.
#include <doctest/doctest.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>

#include "evenleg/describe/describe.h"
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
  // Waits for a prompt, which ends what is printed so far with ": ".
  [[nodiscard]] bool prompts() {
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
    seen_.clear();
    return true;
  }

 private:
  pid_t child_ = -1;
  int to_ = -1;
  int from_ = -1;
  std::string seen_;
};

TEST_CASE("a visit killed at any prompt loses nothing") {
  REQUIRE(std::getenv("EVENLEG_PROGRAM") != nullptr);
  const Vocabulary words = vocabulary(load_tables());
  const std::vector<std::string> answers{"see-saw", "whole house", "both", "evenings", "iron",
                                         "lasting", "no",          "none", "none",     "hand meter",
                                         "low",     "0.7",         "0.2",  "2",        "121.2",
                                         "121.3",   "242.5",       "0.1",  "0.2",      "0.1"};
  const fs::path folder =
      fs::temp_directory_path() / ("evenleg-visit-" + std::to_string(::getpid()));
  fs::create_directories(folder);
  for (std::size_t given = 0; given <= answers.size(); ++given) {
    CAPTURE(given);
    const fs::path path = folder / (std::to_string(given) + ".house");
    create_house_file(path, read_description(kHouse, "house", words));
    {
      Running visit(path);
      REQUIRE(visit.prompts());
      for (std::size_t a = 0; a < given; ++a) {
        visit.say(answers[a]);
        REQUIRE(visit.prompts());
      }
    }
    CHECK(check_house_file(path).empty());
    const House house = load_house(path);
    constexpr std::size_t kFields = 14;  // of [visit], before the readings
    CHECK(house.visit.size() == std::min(given, kFields));
    CHECK(house.readings.size() == (given > kFields ? 1 : 0));
    if (given > kFields) CHECK(house.readings[0].l1_n_volts == 121.2);
    if (given > 16) CHECK(house.readings[0].l1_l2_volts == 242.5);
    if (given == answers.size()) CHECK(house.readings[0].neutral_amps == 0.1);
  }
  fs::remove_all(folder);
}

}  // namespace
}  // namespace evenleg
