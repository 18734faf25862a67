// The start of a file, read through SQLite's own file layer.
//
// Why not with an ordinary stream: on POSIX systems, closing any descriptor of a file drops all
// locks that the process has on it, also those of a change that another thread has under way.
// SQLite's layer knows of them ("How To Corrupt An SQLite Database File", section 2.2).
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace evenleg {

// At most `count` bytes. Throws: Error(File) when the file cannot be opened or read.
// Requires: a regular file.
[[nodiscard]] std::string first_bytes(const std::filesystem::path& path, std::size_t count);

[[nodiscard]] bool starts_as_database(std::string_view head);

}  // namespace evenleg
