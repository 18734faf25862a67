// The sources that a record names, numbered in the order of first mention.
#pragma once

#include <string>
#include <vector>

#include "evenleg/base/citation.h"

namespace evenleg {

class SourceList {
 public:
  // "[3]"; "" for a source without a title.
  [[nodiscard]] std::string mark(const Citation& citation);
  [[nodiscard]] std::string mark(const std::string& source);
  // "short form; read: …", first mentioned first.
  [[nodiscard]] const std::vector<std::string>& entries() const { return entries_; }

 private:
  std::vector<std::string> entries_;
};

}  // namespace evenleg
