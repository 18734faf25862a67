#include "src/store/first_bytes.h"

#include <sqlite3.h>

#include <algorithm>
#include <memory>
#include <new>
#include <vector>

#include "evenleg/base/error.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;
using namespace std::string_view_literals;

// "SQLite Database File Format", section 1.3.1, with its final zero byte.
constexpr std::string_view kMagic = "SQLite format 3\0"sv;

struct Closer {
  void operator()(sqlite3_file* file) const {
    if (file->pMethods != nullptr) file->pMethods->xClose(file);
  }
};

}  // namespace

std::string first_bytes(const fs::path& path, std::size_t count) {
  const auto refuse = [&] {
    return Error(ErrorKind::File, {path.string(), "cannot be opened for reading",
                                   "check the permissions of the file and of its folder"});
  };
  sqlite3_vfs* const vfs = sqlite3_vfs_find(nullptr);
  if (vfs == nullptr) throw std::bad_alloc();  // what SQLite's start has no other reason for
  // sqlite3_file is the head of a larger object whose size the layer tells.
  std::vector<std::max_align_t> room(
      static_cast<std::size_t>(vfs->szOsFile) / sizeof(std::max_align_t) + 1);
  auto* const raw = reinterpret_cast<sqlite3_file*>(room.data());
  std::error_code error;
  const fs::path target = fs::canonical(path, error);  // the layer itself follows no links
  if (error) throw refuse();
  // A name made by SQLite: the layer looks for parameters behind its end.
  const std::unique_ptr<char, void (*)(char*)> name(
      const_cast<char*>(sqlite3_create_filename(target.c_str(), "", "", 0, nullptr)),
      [](char* text) { sqlite3_free_filename(text); });
  if (!name) throw std::bad_alloc();
  constexpr int kFlags = SQLITE_OPEN_READONLY | SQLITE_OPEN_MAIN_DB;
  const int opened = vfs->xOpen(vfs, name.get(), raw, kFlags, nullptr);
  const std::unique_ptr<sqlite3_file, Closer> file(raw);
  if (opened == SQLITE_NOMEM) throw std::bad_alloc();
  if (opened != SQLITE_OK) throw refuse();
  sqlite3_int64 size = 0;
  if (raw->pMethods->xFileSize(raw, &size) != SQLITE_OK) throw refuse();
  std::string bytes(std::min(count, static_cast<std::size_t>(size)), '\0');
  const int wanted = static_cast<int>(bytes.size());
  if (wanted > 0 && raw->pMethods->xRead(raw, bytes.data(), wanted, 0) != SQLITE_OK) throw refuse();
  return bytes;
}

bool starts_as_database(std::string_view head) { return head.starts_with(kMagic); }

}  // namespace evenleg
