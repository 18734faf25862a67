// A recorder's log of ten million rows: `evenleg diagnose --log` in a process of its own, beside
// `wc -l` and the sqlite3 shell's import of the same file, where that is installed. Wall time,
// since all three are child processes; the memory is the child's largest resident set.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <random>

#include "evenleg/base/files.h"
#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "tests/bench/benchmarks.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr long kRows = 10000000;
constexpr double kMega = 1e6;
constexpr double kKibibyte = 1024;  // ru_maxrss is in these on Linux

// The log, the house and the imported file, in a folder that goes with them.
class Files {
 public:
  Files() : folder_(fs::temp_directory_path() / fmt::format("evenleg-bench-{}", ::getpid())) {
    fs::create_directories(folder_);
    write_file(house(),
               "format = 1\nhouse = {name = \"Log\"}\n"
               "supply = {system = \"120/240 split-phase\"}\n"
               "panel = [{name = \"Main\", spaces = 8}]\n");
    write_log();
  }
  ~Files() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  Files(const Files&) = delete;
  Files& operator=(const Files&) = delete;

  [[nodiscard]] fs::path house() const { return folder_ / "house.toml"; }
  [[nodiscard]] fs::path log() const { return folder_ / "log.csv"; }
  [[nodiscard]] fs::path database() const { return folder_ / "log.db"; }

 private:
  // V1 = E - R1 I1 - RN (I1 - I2) and its twin, kettles that come and go, a sample a second.
  void write_log() const {
    std::FILE* out = std::fopen(log().c_str(), "wb");
    std::mt19937 dice(1);
    std::normal_distribution<double> noise(0, 0.03);
    std::uniform_real_distribution<double> chance(0, 1);
    std::fputs("time,L1 V,L2 V,L1 A,L2 A\n", out);
    double one = 5, two = 4;
    constexpr long kFirst = 1773446400;  // 2026-03-14, in seconds since 1970
    for (long k = 0; k < kRows; ++k) {
      if (chance(dice) < 0.02) one = one < 10 && chance(dice) < 0.4 ? 17.5 : 5;
      if (chance(dice) < 0.02) two = two < 10 && chance(dice) < 0.4 ? 13 : 4;
      fmt::print(out, "{},{:.2f},{:.2f},{:.2f},{:.2f}\n", kFirst + k,
                 121 - 0.03 * one - 0.3 * (one - two) + noise(dice),
                 121 - 0.03 * two - 0.3 * (two - one) + noise(dice), one, two);
    }
    std::fclose(out);
  }

  fs::path folder_;
};

std::shared_ptr<const Files> files() {
  static const auto kFiles = std::make_shared<const Files>();
  return kFiles;
}

// Runs a program with its output thrown away; its largest resident set in MB, or nothing.
std::optional<double> run(const std::vector<std::string>& command) {
  const pid_t child = ::fork();
  if (child == 0) {
    const int null = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    ::dup2(null, STDOUT_FILENO);
    std::vector<char*> words;
    for (const std::string& word : command) words.push_back(const_cast<char*>(word.c_str()));
    words.push_back(nullptr);
    ::execvp(words[0], words.data());
    ::_exit(127);
  }
  int status = 0;
  rusage used{};
  if (child < 0 || ::wait4(child, &status, 0, &used) < 0 || status != 0) return std::nullopt;
  return static_cast<double>(used.ru_maxrss) * kKibibyte / kMega;
}

void measure(benchmark::State& state, const std::vector<std::string>& command) {
  double megabytes = 0;
  for (auto _ : state) {
    const auto used = run(command);
    if (!used) return state.SkipWithError("the program failed");
    megabytes = *used;
  }
  state.counters["MB"] = megabytes;
}

}  // namespace

void add_logs() {
  add_benchmark("logs/evenleg", [](benchmark::State& state) {
    measure(state,
            {EVENLEG_PROGRAM, "diagnose", files()->house(), "--json", "--log", files()->log()});
  });
  add_benchmark("logs/wc", [](benchmark::State& state) {
    measure(state, {"wc", "-l", files()->log()});
  });
  add_benchmark("logs/sqlite3", [](benchmark::State& state) {
    for (auto _ : state) {
      fs::remove(files()->database());
      if (!run({"sqlite3", files()->database(), ".mode csv",
                fmt::format(".import {} log", files()->log().string())})) {
        return state.SkipWithError("the sqlite3 shell is not installed, or failed");
      }
    }
  });
}

std::string about_logs(const Results& results) {
  TextTable table({{"ten million rows read by"},
                   {"wall ms", Align::Right},
                   {"times wc", Align::Right},
                   {"MB", Align::Right}});
  const Measured* count = results.find("logs/wc");
  for (const auto& [name, title] : {std::pair{"logs/wc", "wc -l"},
                                    {"logs/evenleg", "evenleg diagnose --log"},
                                    {"logs/sqlite3", "sqlite3 .import"}}) {
    const Measured* one = results.find(name);
    if (one == nullptr) continue;
    const auto megabytes = one->counters.find("MB");
    table.add({title, milliseconds(one->wall),
               count == nullptr ? "-" : figure(one->wall / count->wall),
               megabytes == one->counters.end() ? "-" : figure(megabytes->second)});
  }
  return table.empty() ? "" : table.text(0);
}

}  // namespace evenleg
