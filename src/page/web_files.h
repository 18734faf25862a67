// The page's own files, src/page/web/, as they are built into the program.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace evenleg {

struct WebFile {
  std::string_view name;  // "app.js"
  std::string_view text;
};

// All of them; defined in a source that the build makes.
[[nodiscard]] std::span<const WebFile> web_files();

// Every file has its name here and nowhere else: no path is ever opened for a request.
[[nodiscard]] std::optional<WebFile> web_file(std::string_view name);
[[nodiscard]] std::string_view type_of(std::string_view name);

}  // namespace evenleg
