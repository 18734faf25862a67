// A folder for the files of a fuzz target, in memory where there is such a place.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <string>

#include "tests/fuzz/holds.h"

namespace evenleg::fuzz {

// Removed at the end.
class MemoryFolder {
 public:
  MemoryFolder() {
    namespace fs = std::filesystem;
    const fs::path above =
        fs::exists("/dev/shm") ? fs::path("/dev/shm") : fs::temp_directory_path();
    path_ = (above / "evenleg-fuzz-XXXXXX").string();
    holds(::mkdtemp(path_.data()) != nullptr, "a folder can be made");
  }
  ~MemoryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  MemoryFolder(const MemoryFolder&) = delete;
  MemoryFolder& operator=(const MemoryFolder&) = delete;

  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace evenleg::fuzz
