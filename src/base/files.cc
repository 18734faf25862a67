#include "evenleg/base/files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <system_error>

#include "evenleg/base/error.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& path, const std::string& what, const std::string& remedy) {
  throw Error(ErrorKind::File, {path.string(), what, remedy});
}

// Closes on every path out; a failed close after a good fsync loses nothing.
struct Descriptor {
  int value = -1;
  ~Descriptor() {
    if (value >= 0) ::close(value);
  }
};

}  // namespace

std::string read_file(const fs::path& path, std::uintmax_t most_bytes) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) fail(path, "no such file", "check the name and the folder");
  if (fs::is_directory(status)) fail(path, "is a folder, not a file", "name a file in it");
  std::ifstream in(path, std::ios::binary);
  if (!in) fail(path, "cannot be opened for reading", "check its permissions");
  std::string text;
  char chunk[1U << 16U];
  while (in.read(chunk, sizeof chunk) || in.gcount() > 0) {
    text.append(chunk, static_cast<std::size_t>(in.gcount()));
    if (text.size() > most_bytes) {
      fail(path, fmt::format("is larger than {} bytes", most_bytes), "split it or shorten it");
    }
  }
  if (in.bad()) fail(path, "cannot be read to its end", "check the disk");
  return text;
}

void write_file(const fs::path& path, std::string_view text) {
  const fs::path fresh = path.string() + fmt::format(".{}.new", ::getpid());
  const auto give_up = [&](const std::string& what) {
    const int code = errno;
    std::error_code ignored;
    fs::remove(fresh, ignored);
    fail(path, fmt::format("{}: {}", what, std::strerror(code)),
         "check the folder, its permissions and the free space");
  };
  {
    constexpr mode_t kMode = 0666;  // less the user's umask
    Descriptor file{::open(fresh.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kMode)};
    if (file.value < 0) give_up("cannot be written");
    for (std::size_t done = 0; done < text.size();) {
      const ssize_t n = ::write(file.value, text.data() + done, text.size() - done);
      if (n < 0 && errno == EINTR) continue;
      if (n < 0) give_up("cannot be written");
      done += static_cast<std::size_t>(n);
    }
    if (::fsync(file.value) != 0) give_up("cannot be flushed to the disk");
  }
  if (::rename(fresh.c_str(), path.c_str()) != 0) give_up("cannot be put in place");
}

}  // namespace evenleg
