// Runs the program as a person would, and kills it as a power cut would.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>
#include <vector>

namespace evenleg::hardening {

struct Ran {
  int status = -1;         // exit status, -1 when a signal ended it
  int signal = 0;          // the one that ended it, 0: none
  bool timed_out = false;  // it was killed after `seconds`
  std::string out, err;
};

using Words = std::vector<std::string>;

// `folder`: where it runs, and where its output is caught. Standard input is empty.
[[nodiscard]] Ran run(const Words& arguments, const std::filesystem::path& folder,
                      double seconds = 60);

// Started and left running; its output is thrown away. `input`: what its standard input holds.
// `more`: further variables of its environment, NAME=VALUE.
[[nodiscard]] pid_t start(const Words& arguments, const std::filesystem::path& folder,
                          const std::filesystem::path& input = "/dev/null", const Words& more = {});
// True when it ended by itself.
bool wait_for(pid_t program);

// EVENLEG_FULL=1 asks for the long form of a test: `full` instead of `usual`.
[[nodiscard]] int rounds(int usual, int full);

// A variable that the tests are run with. Requires: it is set.
[[nodiscard]] std::string variable(const char* name);

[[nodiscard]] std::string text_of(const std::filesystem::path& path);
void put_text(const std::filesystem::path& path, const std::string& text);

// An empty folder, removed at the end.
class Folder {
 public:
  Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder();
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  [[nodiscard]] std::filesystem::path operator/(const std::string& name) const {
    return path_ / name;
  }
  [[nodiscard]] std::vector<std::string> names() const;  // sorted
  void empty() const;

 private:
  std::filesystem::path path_;
};

}  // namespace evenleg::hardening
