// The files of data/ that are built into the program, byte for byte.
#pragma once

#include <span>
#include <string_view>

namespace evenleg {

struct EmbeddedFile {
  std::string_view name;  // "conductors.toml"
  std::string_view text;
};

[[nodiscard]] std::span<const EmbeddedFile> embedded_files();

}  // namespace evenleg
