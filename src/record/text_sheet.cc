#include "src/record/text_sheet.h"

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/markup.h"
#include "evenleg/base/text_table.h"
#include "evenleg/base/utf8.h"
#include "src/record/blocks.h"

namespace evenleg {
namespace {

constexpr int kIndent = 2;
constexpr int kGap = 2;
constexpr int kLongWord = 13;  // columns; longer ones may be cut

std::string spaces(int count) {
  return std::string(static_cast<std::size_t>(std::max(0, count)), ' ');
}

struct TextColumn {
  std::string heading;
  bool number = false;
  int natural = 0;
  int word = 0;  // its longest, as far as none is cut for it
  int width = 0;
};

// Words share what figures and gaps leave of the page, each in proportion to what it lacks.
void set_widths(std::vector<TextColumn>& all) {
  int room = kPageColumns - kIndent - kGap * static_cast<int>(all.size() - 1);
  int lacking = 0;
  for (TextColumn& one : all) {
    one.width = one.word;
    room -= one.width;
    lacking += one.natural - one.width;
  }
  while (room < 0) {  // even whole words do not fit beside each other
    TextColumn* widest = nullptr;
    for (TextColumn& one : all) {
      if (!one.number && (widest == nullptr || one.width > widest->width)) widest = &one;
    }
    if (widest == nullptr || widest->width <= 1) break;
    --widest->width;
    ++room;
  }
  for (TextColumn& one : all) {
    const int lacks = one.natural - one.width;
    if (lacks == 0 || room <= 0) continue;
    const int share = lacking <= room ? lacks : std::min(lacks, lacks * room / lacking);
    one.width += share;
  }
}

std::string row_text(const std::vector<std::string>& cells, const std::vector<TextColumn>& all) {
  std::vector<std::vector<std::string>> lines;
  std::size_t tallest = 1;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    lines.push_back(lines_within(cells[c], all[c].width));
    tallest = std::max(tallest, lines.back().size());
  }
  std::string text;
  for (std::size_t l = 0; l < tallest; ++l) {
    std::string line = spaces(kIndent);
    for (std::size_t c = 0; c < cells.size(); ++c) {
      const std::string part = l < lines[c].size() ? lines[c][l] : "";
      const std::string rest = spaces(all[c].width - columns(part));
      line += (c == 0 ? "" : spaces(kGap)) + (all[c].number ? rest + part : part + rest);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

}  // namespace

int longest_word(const std::string& text) {
  int longest = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    longest = std::max(longest, columns(std::string_view(text).substr(at, end - at)));
    at = end + 1;
  }
  return longest;
}

std::vector<std::string> lines_within(const std::string& text, int width) {
  std::string fit;
  int run = 0;  // columns since the last space
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t bytes = first_code_point(std::string_view(text).substr(at)).bytes;
    run = text[at] == ' ' ? 0 : run + 1;
    if (run > width) {
      fit += ' ';
      run = 1;
    }
    fit.append(text, at, std::max<std::size_t>(1, bytes));
    at += std::max<std::size_t>(1, bytes);
  }
  return wrapped(fit, width);
}

std::string text_sheet(const Sheet& sheet, const std::vector<std::size_t>& chosen,
                       std::size_t rows) {
  std::vector<TextColumn> all;
  std::vector<std::string> heads;
  for (const std::size_t c : chosen) {
    TextColumn one{heading_of(sheet.columns[c]), sheet.columns[c].number};
    one.natural = columns(one.heading);
    for (std::size_t r = 0; r < rows; ++r) {
      const std::string cell = plain_text(sheet.rows[r][c].text);
      one.natural = std::max(one.natural, columns(cell));
      const int word = longest_word(cell);
      one.word = std::max(one.word, one.number ? word : std::min(kLongWord, word));
    }
    one.word = std::max(one.word, std::min(kLongWord, longest_word(one.heading)));
    heads.push_back(one.heading);
    all.push_back(std::move(one));
  }
  set_widths(all);
  std::string text = row_text(heads, all) + spaces(kIndent);
  for (std::size_t c = 0; c < all.size(); ++c) {
    text += (c == 0 ? "" : spaces(kGap)) + std::string(static_cast<std::size_t>(all[c].width), '-');
  }
  text += "\n";
  for (std::size_t r = 0; r < rows; ++r) {
    std::vector<std::string> cells;
    for (const std::size_t c : chosen) cells.push_back(plain_text(sheet.rows[r][c].text));
    text += row_text(cells, all);
  }
  return text;
}

}  // namespace evenleg
