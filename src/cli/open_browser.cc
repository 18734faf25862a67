#include "src/cli/open_browser.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <thread>

#include "src/cli/plain_signals.h"

extern char** environ;

namespace evenleg {

bool open_browser(const std::string& address) {
  const bool desktop =
      std::getenv("DISPLAY") != nullptr || std::getenv("WAYLAND_DISPLAY") != nullptr;
  if (!desktop) return false;
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    posix_spawn_file_actions_addopen(&actions, stream, "/dev/null", O_RDWR, 0);
  }
  std::string program = "xdg-open", to = address;  // freedesktop.org's, in Debian's xdg-utils
  char* arguments[] = {program.data(), to.data(), nullptr};
  pid_t child = 0;
  const PlainSignals signals;
  const int spawned =
      posix_spawnp(&child, program.c_str(), &actions, signals.attributes(), arguments, environ);
  posix_spawn_file_actions_destroy(&actions);
  if (spawned != 0) return false;
  std::thread([child] { waitpid(child, nullptr, 0); }).detach();
  return true;
}

}  // namespace evenleg
