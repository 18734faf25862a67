// Any words on the command line give one of the documented exit statuses and leave nothing behind
// but an exception of class Error, which run() has turned into its lines.
//
// An input's lines are the words after "evenleg". They are run in a folder in memory that holds the
// same four files each time; words that could lead out of it, or start another program, are not
// run. Standard input is empty, and what is printed is thrown away.
#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "evenleg/describe/describe.h"
#include "evenleg/store/store.h"
#include "evenleg/tables/tables.h"
#include "src/cli/run.h"
#include "tests/fuzz/holds.h"
#include "tests/fuzz/memory_folder.h"

using namespace evenleg;

namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostWords = 24;
constexpr int kHighestStatus = 3;

constexpr const char* kHouse = R"toml(
format = 1
[house]
name = "H"
[supply]
system = "120/240 split-phase"
[service]
conductor = "4/0 Al"
length_ft = 50
[[panel]]
name = "Main"
spaces = 8
[[circuit]]
name = "A"
panel = "Main"
space = 1
[[circuit]]
name = "B"
panel = "Main"
space = 3
[[multiwire]]
name = "M"
circuits = ["A", "B"]
conductor = "12 Cu"
length_ft = 40
[[load]]
name = "T"
at = "A"
kind = "heating"
watts = 1000
[[load]]
name = "P"
at = "B"
watts = 200
[[reading]]
at = "Main"
label = "r"
l1_n_volts = 119
l2_n_volts = 121
)toml";

constexpr const char* kLog = "time,L1 V,L2 V\n1,120,120\n2,121,118\n3,119,122\n";
constexpr const char* kReadings = "at,l1_n_volts\nMain,118.5\n";

// The working folder, in which each input finds the same files.
class Stage {
 public:
  Stage() {
    fs::current_path(folder_.path());
    ::setenv("PATH", folder_.path().c_str(), 1);
    ::setenv("TMPDIR", folder_.path().c_str(), 1);
    const Vocabulary words = vocabulary(load_tables());
    create_house_file("h.house", read_description(kHouse, "h.toml", words));
    house_ = read_file("h.house");
    const int none = ::open("/dev/null", O_RDWR);
    ::dup2(none, STDIN_FILENO);
    ::dup2(none, STDOUT_FILENO);
    // Not the descriptor: a fault's report goes there.
    stderr = ::fdopen(none, "w");
  }
  void set() const {
    for (const fs::path& left : fs::directory_iterator(folder_.path())) fs::remove_all(left);
    put("h.house", house_);
    put("h.toml", kHouse);
    put("l.csv", kLog);
    put("r.csv", kReadings);
  }

 private:
  static void put(const char* name, std::string_view bytes) {
    std::FILE* const file = std::fopen(name, "wb");
    fuzz::holds(file != nullptr, "a file can be made");
    std::fwrite(bytes.data(), 1, bytes.size(), file);
    std::fclose(file);
  }

  fuzz::MemoryFolder folder_;
  std::string house_;
};

// Words that are not run: a way out of the folder, another program, and what takes seconds.
bool is_left_out(const std::string& word) {
  constexpr std::array<std::string_view, 6> kParts{"..", "=/", "~", "pdf", "demo", "PDF"};
  if (word.starts_with('/') || word == "open") return true;  // a page is served until it is ended
  for (const std::string_view part : kParts) {
    if (word.find(part) != std::string::npos) return true;
  }
  return false;
}

std::vector<std::string> words_of(std::string_view input) {
  std::vector<std::string> words{"evenleg"};
  while (!input.empty() && words.size() < kMostWords) {
    const std::size_t end = std::min(input.find('\n'), input.size());
    // As the system gives them, words end at a zero.
    words.emplace_back(std::string(input.substr(0, end)).c_str());
    input.remove_prefix(std::min(end + 1, input.size()));
  }
  return words;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Stage kStage;
  const std::vector<std::string> words = words_of({reinterpret_cast<const char*>(data), size});
  std::vector<const char*> argv;
  for (const std::string& word : words) {
    if (is_left_out(word)) return -1;
    argv.push_back(word.c_str());
  }
  argv.push_back(nullptr);
  kStage.set();
  const int status = run(static_cast<int>(words.size()), argv.data());
  fuzz::holds(status >= 0 && status <= kHighestStatus, "a documented exit status");
  return 0;
}
