#include "src/page/web_files.h"

#include <algorithm>

namespace evenleg {

namespace {

struct Ending {
  std::string_view ending;
  std::string_view type;
};
constexpr Ending kEndings[] = {{".html", "text/html; charset=utf-8"},
                               {".css", "text/css; charset=utf-8"},
                               {".js", "text/javascript; charset=utf-8"},
                               {".svg", "image/svg+xml"}};

}  // namespace

std::optional<WebFile> web_file(std::string_view name) {
  const auto files = web_files();
  const auto found = std::find_if(files.begin(), files.end(),
                                  [&](const WebFile& file) { return file.name == name; });
  return found == files.end() ? std::nullopt : std::optional(*found);
}

std::string_view type_of(std::string_view name) {
  for (const Ending& one : kEndings) {
    if (name.ends_with(one.ending)) return one.type;
  }
  return "application/octet-stream";
}

}  // namespace evenleg
