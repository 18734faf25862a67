#include "evenleg/base/files.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <string>

#include "evenleg/base/error.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

// An empty folder of its own for each test, removed at the end.
struct Folder {
  fs::path path;
  Folder() {
    std::string name = (fs::temp_directory_path() / "evenleg-files-XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path = name;
  }
  ~Folder() { fs::remove_all(path); }
  [[nodiscard]] auto entries() const {
    return std::distance(fs::directory_iterator(path), fs::directory_iterator());
  }
};

// The fault of a call that must throw Error(File).
template <class Call>
Fault fault_of(Call call) {
  try {
    call();
  } catch (const Error& error) {
    CHECK(error.kind() == ErrorKind::File);
    REQUIRE(error.faults().size() == 1);
    return error.faults().front();
  }
  FAIL("nothing was thrown");
  return {};
}

TEST_CASE("files: what is written is read back, byte for byte") {
  const Folder folder;
  const fs::path file = folder.path / "a.toml";
  std::string text = "line\r\n\n\xff end without newline";
  text += '\0';
  write_file(file, text);
  CHECK(read_file(file) == text);
  write_file(file, "");
  CHECK(read_file(file).empty());
  CHECK(folder.entries() == 1);
}

TEST_CASE("files: a file longer than a block") {
  const Folder folder;
  const fs::path file = folder.path / "long";
  std::string text;
  for (int i = 0; i < 40000; ++i) text += std::to_string(i);
  write_file(file, text);
  CHECK(read_file(file) == text);
}

TEST_CASE("files: a file that is absent, a folder, or too large is refused") {
  const Folder folder;
  const fs::path file = folder.path / "a.toml";
  CHECK(fault_of([&] { (void)read_file(file); }) ==
        Fault{file.string(), "no such file", "check the name and the folder"});
  CHECK(fault_of([&] { (void)read_file(folder.path); }) ==
        Fault{folder.path.string(), "is a folder, not a file", "name a file in it"});
  write_file(file, "123456789");
  CHECK(read_file(file, 9) == "123456789");
  CHECK(fault_of([&] { (void)read_file(file, 8); }) ==
        Fault{file.string(), "is larger than 8 bytes", "split it or shorten it"});
}

TEST_CASE("files: a failed write leaves the old file and nothing else") {
  const Folder folder;
  // The longest name that a file may have here: the new file beside it would need a longer one.
  const auto longest = static_cast<std::size_t>(::pathconf(folder.path.c_str(), _PC_NAME_MAX));
  const fs::path file = folder.path / std::string(longest, 'n');
  {
    FILE* out = std::fopen(file.c_str(), "w");
    REQUIRE(out != nullptr);
    std::fputs("old", out);
    std::fclose(out);
  }
  CHECK(fault_of([&] { write_file(file, "new"); }).where == file.string());
  CHECK(read_file(file) == "old");
  CHECK(folder.entries() == 1);
}

TEST_CASE("files: a write that cannot be put in place leaves no trace") {
  const Folder folder;
  const fs::path occupied = folder.path / "taken";
  fs::create_directories(occupied / "inside");
  CHECK(fault_of([&] { write_file(occupied, "new"); }).where == occupied.string());
  CHECK(fs::is_directory(occupied / "inside"));
  CHECK(folder.entries() == 1);
  CHECK(fault_of([&] { write_file(folder.path / "none" / "a", "new"); }).remedy ==
        "check the folder, its permissions and the free space");
}

}  // namespace
}  // namespace evenleg
