#include "src/store/fresh_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <string>

#include "evenleg/base/error.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& path, const std::string& what, int code) {
  throw Error(ErrorKind::File, {path.string(), fmt::format("{}: {}", what, std::strerror(code)),
                                "check the folder, its permissions and the free space"});
}

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

// 0, or what went wrong.
int flush(const fs::path& path, int flags) {
  const int file = ::open(path.c_str(), flags | O_CLOEXEC);
  if (file < 0) return errno;
  const int code = ::fsync(file) == 0 ? 0 : errno;
  ::close(file);
  return code;
}

// Gives the file its name, which must be free; 0, or the code of the failure. A hard link is the
// portable way; file systems without them (memory sticks) may know a rename that does not
// overwrite.
int give_name(const fs::path& from, const fs::path& to) {
  if (::link(from.c_str(), to.c_str()) == 0) {
    ::unlink(from.c_str());
    return 0;
  }
  if (errno != EPERM && errno != ENOTSUP && errno != ENOSYS) return errno;
  return ::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0 ? 0
                                                                                          : errno;
}

}  // namespace

FreshFile::FreshFile(const fs::path& target) {
  constexpr mode_t kMode = 0666;  // less the user's umask, as for any document
  // Number after number, because a process that was killed may have left one of this name.
  for (int n = 0;; ++n) {
    path_ = target;
    path_ += fmt::format(".{}-{}.new", ::getpid(), n);
    const int file = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kMode);
    if (file >= 0) {
      ::close(file);
      return;
    }
    if (errno != EEXIST) fail(target, "cannot be made", errno);
  }
}

FreshFile::~FreshFile() {
  if (path_.empty()) return;
  ::unlink(path_.c_str());
  ::unlink((path_.string() + "-journal").c_str());  // left by a failed write
}

bool FreshFile::put_in_place(const fs::path& target) {
  if (const int code = flush(path_, O_RDONLY)) fail(target, "cannot be flushed to the disk", code);
  const int code = give_name(path_, target);
  if (code == EEXIST) return false;
  if (code != 0) fail(target, "cannot be put in place", code);
  path_.clear();
  // Not every file system can flush a folder, and the file is complete under its name by now.
  flush(folder_of(target), O_RDONLY | O_DIRECTORY);
  return true;
}

}  // namespace evenleg
