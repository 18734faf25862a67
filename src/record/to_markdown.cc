#include <fmt/format.h>

#include "evenleg/base/markup.h"
#include "evenleg/record/record.h"
#include "src/record/blocks.h"

namespace evenleg {
namespace {

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

// Text as content. Markup is shut out as in HTML; quotes need no entity here. Of Markdown's own
// signs those are escaped that have a meaning wherever they stand, and those of a line's beginning
// there.
std::string shown(const std::string& text) {
  std::string safe;
  for (const char c : escaped_markup(text)) {
    constexpr std::string_view kAnywhere = "\\`*_[]|~";
    constexpr std::string_view kAtBeginning = "#+-=";
    if (kAnywhere.find(c) != std::string_view::npos ||
        (safe.empty() && kAtBeginning.find(c) != std::string_view::npos)) {
      safe += '\\';
    }
    // "1." and "1)" would begin a list.
    const bool digits = !safe.empty() && safe.find_first_not_of("0123456789") == std::string::npos;
    if (digits && (c == '.' || c == ')')) safe += '\\';
    safe += c;
  }
  return replaced(replaced(std::move(safe), "&quot;", "\""), "&#39;", "'");
}

std::string fields_markdown(const std::vector<std::pair<std::string, std::string>>& rows) {
  std::string text;
  for (const auto& [label, value] : rows) {
    text += fmt::format("- **{}:** {}\n", shown(label),
                        value.empty() ? "\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_" : shown(value));
  }
  return text + "\n";
}

std::string row_markdown(const std::vector<std::string>& cells) {
  std::string line = "|";
  for (const std::string& cell : cells) line += " " + cell + " |";
  return line + "\n";
}

std::string sheet_markdown(const Sheet& sheet) {
  std::vector<std::string> heads, rule;
  for (const SheetColumn& column : sheet.columns) {
    heads.push_back(shown(heading_of(column)));
    rule.emplace_back(column.number ? "---:" : "---");
  }
  std::string text =
      fmt::format("**{}**\n\n", shown(sheet.title)) + row_markdown(heads) + row_markdown(rule);
  for (std::size_t r = 0; r < rows_shown(sheet); ++r) {
    std::vector<std::string> cells;
    for (const Cell& cell : sheet.rows[r]) {
      cells.push_back(cell.value ? cell.text : shown(cell.text));
    }
    text += row_markdown(cells);
  }
  text += "\n";
  if (const std::string left = rows_left_words(sheet); !left.empty()) text += shown(left) + "\n\n";
  for (const std::string& note : sheet.notes) text += shown(note) + "\n\n";
  return text;
}

std::string bullets_markdown(const Bullets& list) {
  std::string text;
  for (std::size_t i = 0; i < list.items.size(); ++i) {
    text += list.numbered ? fmt::format("{}. {}\n", i + 1, shown(list.items[i]))
                          : fmt::format("- {}\n", shown(list.items[i]));
  }
  return text + "\n";
}

std::string statement_markdown(const Statement& statement) {
  const std::string weight =
      statement.weight.empty() ? "" : fmt::format(" ({})", shown(statement.weight));
  return fmt::format("### {}{}\n\n", shown(statement.title), weight) +
         fields_markdown(statement.parts);
}

std::string block_markdown(const Block& block) {
  return std::visit(Overloaded{[](const Paragraph& one) { return shown(one.text) + "\n\n"; },
                               [](const Bullets& one) { return bullets_markdown(one); },
                               [](const Fields& one) { return fields_markdown(one.rows); },
                               [](const Statement& one) { return statement_markdown(one); },
                               [](const Sheet& one) { return sheet_markdown(one); },
                               [](const Drawing& one) {
                                 return fmt::format("*Drawing: {}.* {}\n\n", shown(one.title),
                                                    shown(one.description));
                               }},
                    block);
}

}  // namespace

std::string record_markdown(const Record& record) {
  std::string text = fmt::format("# {}: {}\n\nMade on {}\n\n", shown(record.house),
                                 shown(record.title), record.date);
  if (record.safety) {
    text += fmt::format("## {}\n\n", shown(record.safety->title));
    for (const std::string& sentence : record.safety->found) {
      text += fmt::format("**{}**\n\n", shown(sentence));
    }
    for (const auto& [title, sentences] : record.safety->groups) {
      text += fmt::format("{}\n\n", shown(title + ":")) + bullets_markdown({sentences, false});
    }
    for (const std::string& sentence : record.safety->after) text += shown(sentence) + "\n\n";
  }
  for (const Section& section : record.sections) {
    text += fmt::format("## {}\n\n", shown(section.title));
    for (const Block& block : section.blocks) text += block_markdown(block);
  }
  return text + "---\n\n" + shown(record.foot) + "\n\n" + shown(record.origin) + "\n";
}

}  // namespace evenleg
