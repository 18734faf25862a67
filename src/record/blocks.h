// Internal to the forms of a record.
#pragma once

#include <string>

#include "evenleg/record/document.h"

namespace evenleg {

template <class... Functions>
struct Overloaded : Functions... {
  using Functions::operator()...;
};
template <class... Functions>
Overloaded(Functions...) -> Overloaded<Functions...>;

// "highest, V".
[[nodiscard]] inline std::string heading_of(const SheetColumn& column) {
  return column.unit.empty() ? column.heading : column.heading + ", " + column.unit;
}

[[nodiscard]] inline bool has_sheet(const Section& section) {
  for (const Block& block : section.blocks) {
    if (std::holds_alternative<Sheet>(block)) return true;
  }
  return false;
}

// Rows that a page shows, and the words for those it does not.
[[nodiscard]] std::size_t rows_shown(const Sheet& sheet);
[[nodiscard]] std::string rows_left_words(const Sheet& sheet);  // "" for none

// The lines that a spreadsheet begins with: what stands first, and what the figures are worth.
[[nodiscard]] std::vector<std::string> opening_lines(const Record& record);
// All tables of a record, in order.
[[nodiscard]] std::vector<const Sheet*> sheets_of(const Record& record);

}  // namespace evenleg
