// A new file that gets its name only when it is complete: written under another name in the same
// folder, flushed to the disk, then put in place without overwriting anything.
#pragma once

#include <filesystem>

namespace evenleg {

class FreshFile {
 public:
  // An empty file beside `target`. Throws: Error(File) about `target` when it cannot be made.
  explicit FreshFile(const std::filesystem::path& target);
  FreshFile(const FreshFile&) = delete;
  FreshFile& operator=(const FreshFile&) = delete;
  // Removes it, unless it is in place.
  ~FreshFile();

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  // False when the name is taken; then nothing has changed and another name may be tried.
  // Requires: no open connection to it. Throws: Error(File).
  [[nodiscard]] bool put_in_place(const std::filesystem::path& target);

 private:
  std::filesystem::path path_;
};

}  // namespace evenleg
