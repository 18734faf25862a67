// Where a figure comes from. Every data table carries one, and reports print it beside the figure.
#pragma once

#include <string>

namespace evenleg {

struct Citation {
  std::string title;      // author or body, and title
  std::string edition;    // year or edition
  std::string section;    // clause, table, page
  std::string precision;  // what the source prints to
  std::string read;       // how and when it was read: at source, second hand, from memory, judgement

  bool operator==(const Citation&) const = default;
};

// "NEC chapter 9, table 8 (2008)".
[[nodiscard]] std::string short_form(const Citation& citation);

}  // namespace evenleg
