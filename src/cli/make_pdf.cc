#include "src/cli/make_pdf.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <string_view>

#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "src/cli/plain_signals.h"

extern char** environ;

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr const char* kRenderer = "weasyprint";
constexpr int kNotFound = 127;  // what a spawned program exits with where it cannot be run

Error missing(const std::string& out) {
  fs::path page = out;
  page.replace_extension(".html");
  return {ErrorKind::Request,
          {out, "a PDF is made by the program weasyprint, which is not installed",
           fmt::format("install it (Debian: apt install weasyprint), or give --out {} and print it "
                       "from a browser",
                       page.string())}};
}

// A folder of our own for the page and its PDF, gone with the object.
class WorkFolder {
 public:
  WorkFolder() : path_((fs::temp_directory_path() / "evenleg-pdf-XXXXXX").string()) {
    if (mkdtemp(path_.data()) != nullptr) return;
    throw Error(ErrorKind::File, {path_, "no folder for the PDF can be made",
                                  "check that there is space for temporary files"});
  }
  ~WorkFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  WorkFolder(const WorkFolder&) = delete;
  WorkFolder& operator=(const WorkFolder&) = delete;

  [[nodiscard]] std::string file(const char* name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

// The exit status of the renderer, its own words thrown away: they name files that nobody knows.
int render(const std::string& page, const std::string& pdf) {
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    posix_spawn_file_actions_addopen(&actions, stream, "/dev/null", O_RDWR, 0);
  }
  std::string program = kRenderer, from = page, to = pdf;
  char* arguments[] = {program.data(), from.data(), to.data(), nullptr};
  pid_t child = 0;
  const PlainSignals signals;
  const int spawned =
      posix_spawnp(&child, kRenderer, &actions, signals.attributes(), arguments, environ);
  posix_spawn_file_actions_destroy(&actions);
  if (spawned != 0) return kNotFound;
  int status = 0;
  while (waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) return 1;
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 1;
}

}  // namespace

bool has_pdf_renderer() {
  const char* path = std::getenv("PATH");
  const std::string_view folders = path == nullptr ? "" : path;
  for (std::size_t from = 0; from <= folders.size();) {
    const std::size_t end = std::min(folders.find(':', from), folders.size());
    const fs::path folder = folders.substr(from, end - from);
    if (access((folder / kRenderer).c_str(), X_OK) == 0) return true;
    from = end + 1;
  }
  return false;
}

std::string make_pdf(const std::string& html, const std::string& out) {
  const WorkFolder folder;
  const std::string page = folder.file("record.html"), pdf = folder.file("record.pdf");
  write_file(page, html);
  const int status = render(page, pdf);
  if (status == kNotFound) throw missing(out);
  if (status != 0 || !fs::exists(pdf)) {
    throw Error(ErrorKind::File,
                {out, fmt::format("the program weasyprint could not make it (status {})", status),
                 "write an .html file and print it from a browser"});
  }
  constexpr std::uintmax_t kMostBytes = 512U << 20U;
  return read_file(pdf, kMostBytes);
}

}  // namespace evenleg
