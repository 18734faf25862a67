#include "tests/hardening/program.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>

namespace evenleg::hardening {

namespace fs = std::filesystem;

namespace {

pid_t start_into(const Words& arguments, const fs::path& folder, const fs::path& input,
                 const fs::path& out, const fs::path& err, const Words& more) {
  const std::string program = variable("EVENLEG_PROGRAM");
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child != 0) return child;
  const auto redirect = [](const fs::path& path, int flags, int to) {
    constexpr mode_t kMode = 0600;
    const int file = ::open(path.c_str(), flags, kMode);
    if (file < 0 || ::dup2(file, to) < 0) ::_exit(126);
  };
  if (::chdir(folder.c_str()) != 0) ::_exit(126);
  redirect(input, O_RDONLY, STDIN_FILENO);
  redirect(out, O_WRONLY | O_CREAT | O_TRUNC, STDOUT_FILENO);
  redirect(err, O_WRONLY | O_CREAT | O_TRUNC, STDERR_FILENO);
  for (const std::string& variable : more) ::putenv(::strdup(variable.c_str()));
  std::vector<char*> argv{const_cast<char*>(program.c_str())};
  for (const std::string& word : arguments) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  ::execv(program.c_str(), argv.data());
  ::_exit(127);
}

}  // namespace

Ran run(const Words& arguments, const fs::path& folder, double seconds) {
  const Folder caught;
  const fs::path out = caught / "out", err = caught / "err";
  const pid_t child = start_into(arguments, folder, "/dev/null", out, err, {});
  Ran ran;
  int status = 0;
  const auto start = std::chrono::steady_clock::now();
  constexpr useconds_t kPause = 500;
  while (::waitpid(child, &status, WNOHANG) == 0) {
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    if (taken.count() > seconds && !ran.timed_out) {
      ran.timed_out = true;
      ::kill(child, SIGKILL);
    }
    ::usleep(kPause);
  }
  if (WIFEXITED(status)) ran.status = WEXITSTATUS(status);
  if (WIFSIGNALED(status)) ran.signal = WTERMSIG(status);
  ran.out = text_of(out);
  ran.err = text_of(err);
  return ran;
}

pid_t start(const Words& arguments, const fs::path& folder, const fs::path& input,
            const Words& more) {
  return start_into(arguments, folder, input, "/dev/null", "/dev/null", more);
}

bool wait_for(pid_t program) {
  int status = 0;
  REQUIRE(::waitpid(program, &status, 0) == program);
  return WIFEXITED(status);
}

int rounds(int usual, int full) {
  const char* asked = std::getenv("EVENLEG_FULL");
  return asked != nullptr && std::string(asked) == "1" ? full : usual;
}

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  REQUIRE_MESSAGE(value != nullptr, name, " is not set");
  return value;
}

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void put_text(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "evenleg-hard-XXXXXX").string();
  REQUIRE(::mkdtemp(name.data()) != nullptr);
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::vector<std::string> Folder::names() const {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(path_)) {
    names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

void Folder::empty() const {
  for (const auto& entry : fs::directory_iterator(path_)) fs::remove_all(entry.path());
}

}  // namespace evenleg::hardening
