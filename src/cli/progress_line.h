// One line on standard error, rewritten in place and wiped at the end; nothing where that is not a
// terminal.
#pragma once

#include <string>

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

}  // namespace evenleg
