#include "evenleg/base/text_table.h"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "evenleg/base/format.h"

namespace evenleg {
namespace {

constexpr int kGap = 2;
constexpr int kNarrowest = 8;  // a column that gives way keeps at least this many columns

std::string padded(const std::string& text, int width, Align align) {
  const std::string space(static_cast<std::size_t>(std::max(0, width - columns(text))), ' ');
  return align == Align::Left ? text + space : space + text;
}

std::string without_trailing_spaces(std::string text) {
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}

}  // namespace

void TextTable::add(std::vector<std::string> cells) {
  assert(cells.size() == columns_.size());
  rows_.push_back(std::move(cells));
}

std::string TextTable::text(int indent) const {
  std::vector<int> widths;
  for (const Column& column : columns_) widths.push_back(columns(column.heading));
  for (const auto& row : rows_) {
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], columns(row[c]));
  }
  const int gaps = kGap * (static_cast<int>(columns_.size()) - 1) + indent;
  while (std::accumulate(widths.begin(), widths.end(), gaps) > kPageColumns) {
    auto widest = widths.end();
    for (auto w = widths.begin(); w != widths.end(); ++w) {
      const bool is_text = columns_[static_cast<std::size_t>(w - widths.begin())].align == Align::Left;
      if (is_text && *w > kNarrowest && (widest == widths.end() || *w > *widest)) widest = w;
    }
    if (widest == widths.end()) break;
    --*widest;
  }
  const std::string margin(static_cast<std::size_t>(indent), ' ');
  std::string text;
  const auto add_line = [&](auto&& cell) {
    std::string line = margin;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      if (c > 0) line += std::string(kGap, ' ');
      line += padded(shortened(cell(c), widths[c]), widths[c], columns_[c].align);
    }
    text += without_trailing_spaces(line) + "\n";
  };
  add_line([&](std::size_t c) { return columns_[c].heading; });
  add_line([&](std::size_t c) { return std::string(static_cast<std::size_t>(widths[c]), '-'); });
  for (const auto& row : rows_) add_line([&](std::size_t c) { return row[c]; });
  return text;
}

}  // namespace evenleg
