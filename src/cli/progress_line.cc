#include "src/cli/progress_line.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>

namespace evenleg {

ProgressLine::ProgressLine() : on_(isatty(STDERR_FILENO) != 0) {}

void ProgressLine::write(const std::string& text) {
  if (!on_ || text == shown_) return;
  fmt::print(stderr, "\r{:<{}}\r{}", "", shown_.size(), text);
  std::fflush(stderr);
  shown_ = text;
}

std::function<void(std::string_view, int, int)> progress_on(ProgressLine& line, std::string which) {
  return [&line, which = std::move(which)](std::string_view doing, int done, int all) {
    line.write(fmt::format("{}{}: {} of {}", which, doing, done, all));
  };
}

}  // namespace evenleg
