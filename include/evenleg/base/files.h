// Whole text files, read and written. A write is all or nothing: to a new file beside the old one,
// flushed to the disk, then renamed over it.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace evenleg {

// Throws: Error(File) when it cannot be read, or is larger than `most_bytes`.
[[nodiscard]] std::string read_file(const std::filesystem::path& path,
                                    std::uintmax_t most_bytes = 64U << 20U);

// Throws: Error(File) when it cannot be written; an earlier file of that name is then unchanged.
void write_file(const std::filesystem::path& path, std::string_view text);

}  // namespace evenleg
