#include "src/record/blocks.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"

namespace evenleg {

std::size_t rows_shown(const Sheet& sheet) {
  return sheet.most_shown == 0 ? sheet.rows.size() : std::min(sheet.most_shown, sheet.rows.size());
}

std::string rows_left_words(const Sheet& sheet) {
  const std::size_t left = sheet.rows.size() - rows_shown(sheet);
  if (left == 0) return "";
  return fmt::format("{} not shown here; the spreadsheet forms (xlsx, csv) have all.",
                     left == 1 ? "1 more row is" : fmt::format("{} more rows are", left));
}

std::vector<std::string> opening_lines(const Record& record) {
  std::vector<std::string> lines{fmt::format("{}: {}", record.house, record.title), record.origin};
  if (record.safety) {
    lines.push_back(record.safety->title);
    lines.insert(lines.end(), record.safety->found.begin(), record.safety->found.end());
    for (const auto& [title, sentences] : record.safety->groups) {
      lines.push_back(title + ":");
      lines.insert(lines.end(), sentences.begin(), sentences.end());
    }
    lines.insert(lines.end(), record.safety->after.begin(), record.safety->after.end());
  }
  lines.push_back(record.foot);
  return lines;
}

std::vector<const Sheet*> sheets_of(const Record& record) {
  std::vector<const Sheet*> sheets;
  for (const Section& section : record.sections) {
    for (const Block& block : section.blocks) {
      const auto* sheet = std::get_if<Sheet>(&block);
      if (sheet != nullptr && !sheet->rows.empty()) sheets.push_back(sheet);
    }
  }
  return sheets;
}

}  // namespace evenleg
