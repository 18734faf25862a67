// One line on standard error, rewritten in place and wiped at the end; nothing where that is not a
// terminal.
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace evenleg {

class ProgressLine {
 public:
  ProgressLine();
  ~ProgressLine() { write(""); }
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void write(const std::string& text);

 private:
  bool on_;
  std::string shown_;
};

// What a search tells of its progress, on that line, which must outlive it; `which`: of what,
// before it.
[[nodiscard]] std::function<void(std::string_view, int, int)> progress_on(ProgressLine& line,
                                                                          std::string which = "");

}  // namespace evenleg
