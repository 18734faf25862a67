#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/markup.h"
#include "evenleg/base/text_table.h"
#include "evenleg/record/record.h"
#include "src/record/blocks.h"
#include "src/record/text_sheet.h"

namespace evenleg {
namespace {

std::string paragraph(const std::string& text, int indent = 2, int hang = 0) {
  std::string lines;
  for (const std::string& part : lines_within(plain_text(text), kPageColumns - indent - hang)) {
    lines += std::string(static_cast<std::size_t>(lines.empty() ? indent : indent + hang), ' ') +
             part + "\n";
  }
  return lines;
}

std::string heading(const std::string& text) {
  const std::string line = shortened(plain_text(text), kPageColumns);
  return "\n" + line + "\n" + std::string(static_cast<std::size_t>(columns(line)), '-') + "\n";
}

std::string fields_text(const std::vector<std::pair<std::string, std::string>>& rows, int indent) {
  std::size_t widest = 0;
  for (const auto& row : rows) {
    widest = std::max(widest, static_cast<std::size_t>(columns(row.first)));
  }
  std::string text;
  for (const auto& [label, value] : rows) {
    constexpr int kMostLabel = 28;
    const int hang = std::min(static_cast<int>(widest), kMostLabel) + 2;
    std::string head = label + ":";
    head.resize(head.size() + static_cast<std::size_t>(std::max(1, hang - columns(head))), ' ');
    constexpr int kBlank = 40;
    const std::string shown = value.empty() ? std::string(kBlank, '_') : plain_text(value);
    std::string lines;
    for (const std::string& part :
         lines_within(shown, kPageColumns - indent - std::max(hang, columns(head)))) {
      lines += std::string(static_cast<std::size_t>(indent), ' ') +
               (lines.empty() ? head : std::string(static_cast<std::size_t>(hang), ' ')) + part +
               "\n";
    }
    text += lines;
  }
  return text;
}

// Figures that go beside each other on one page; the first columns are repeated with the rest.
std::vector<std::vector<std::size_t>> pages_of(const Sheet& sheet) {
  std::vector<std::size_t> words, page;
  std::vector<std::vector<std::size_t>> pages;
  constexpr int kMostFigures = 66;  // columns of a page; the rest is for words
  int used = 0;
  for (std::size_t c = 0; c < sheet.columns.size(); ++c) {
    if (!sheet.columns[c].number) words.push_back(c);
  }
  for (std::size_t c = 0; c < sheet.columns.size(); ++c) {
    if (!sheet.columns[c].number) continue;
    int width = longest_word(heading_of(sheet.columns[c]));
    for (const auto& row : sheet.rows) width = std::max(width, columns(row[c].text));
    if (used + width + 2 > kMostFigures && !page.empty()) {
      pages.push_back(page);
      page.clear();
      used = 0;
    }
    page.push_back(c);
    used += width + 2;
  }
  if (!page.empty() || pages.empty()) pages.push_back(page);
  for (std::vector<std::size_t>& one : pages) {
    one.insert(one.end(), words.begin(), words.end());
    std::sort(one.begin(), one.end());
  }
  return pages;
}

std::string sheet_text(const Sheet& sheet) {
  std::string text = "\n" + paragraph(sheet.title + ":");
  for (const std::vector<std::size_t>& page : pages_of(sheet)) {
    text += text_sheet(sheet, page, rows_shown(sheet));
  }
  if (const std::string left = rows_left_words(sheet); !left.empty()) text += paragraph(left);
  for (const std::string& note : sheet.notes) text += paragraph(note);
  return text;
}

std::string bullets_text(const Bullets& list) {
  std::string text;
  for (std::size_t i = 0; i < list.items.size(); ++i) {
    const std::string mark = list.numbered ? fmt::format("{}. ", i + 1) : "- ";
    text += paragraph(mark + list.items[i], 2, static_cast<int>(mark.size()));
  }
  return text;
}

std::string statement_text(const Statement& statement) {
  std::string title = statement.title;
  if (!statement.weight.empty()) title = statement.weight + ": " + title;
  return "\n" + paragraph(title) + fields_text(statement.parts, 4);
}

std::string block_text(const Block& block, bool beside_sheet) {
  return std::visit(
      Overloaded{[](const Paragraph& one) { return paragraph(one.text); },
                 [](const Bullets& one) { return bullets_text(one); },
                 [](const Fields& one) { return fields_text(one.rows, 2); },
                 [](const Statement& one) { return statement_text(one); },
                 [](const Sheet& one) { return sheet_text(one); },
                 [&](const Drawing& one) {
                   return "\n" + paragraph(fmt::format("[drawing] {}{}", one.title,
                                                       beside_sheet ? "" : ". " + one.description),
                                           2, 10);
                 }},
      block);
}

}  // namespace

std::string record_text(const Record& record) {
  std::string text =
      paragraph(fmt::format("{}: {}, made on {}", record.house, record.title, record.date), 0);
  if (record.safety) {
    text += heading(record.safety->title);
    for (const std::string& sentence : record.safety->found) text += paragraph(sentence);
    for (const auto& [title, sentences] : record.safety->groups) {
      text += "\n" + paragraph(title + ":") + bullets_text({sentences, false});
    }
    for (const std::string& sentence : record.safety->after) text += "\n" + paragraph(sentence);
  }
  for (const Section& section : record.sections) {
    text += heading(section.title);
    const bool sheet = has_sheet(section);
    bool after_statement = false;
    for (const Block& block : section.blocks) {
      const bool apart = after_statement && std::holds_alternative<Paragraph>(block);
      text += (apart ? "\n" : "") + block_text(block, sheet);
      after_statement = std::holds_alternative<Statement>(block);
    }
  }
  return text + "\n" + paragraph(record.foot) + "\n" + paragraph(record.origin);
}

}  // namespace evenleg
