#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "evenleg/base/markup.h"
#include "evenleg/record/record.h"
#include "src/record/blocks.h"
#include "src/record/page_style.h"

namespace evenleg {
namespace {

std::string shown(std::string_view text) { return escaped_markup(text); }

// Line ends of prose that a person wrote are kept.
std::string shown_prose(std::string_view text) {
  std::string html;
  while (true) {
    const std::size_t end = text.find('\n');
    html += shown(text.substr(0, end));
    if (end == std::string_view::npos) return html;
    html += '\n';
    text.remove_prefix(end + 1);
  }
}

// `attributes` are ours, `content` is markup.
std::string element(std::string_view name, std::string_view attributes,
                    const std::string& content) {
  return fmt::format("<{0}{1}{2}>{3}</{0}>\n", name, attributes.empty() ? "" : " ", attributes,
                     content);
}

std::string paragraph(std::string_view text) { return element("p", "", shown_prose(text)); }

std::string bullets_html(const Bullets& list) {
  std::string items = "\n";
  for (const std::string& item : list.items) items += element("li", "", shown_prose(item));
  return element(list.numbered ? "ol" : "ul", "", items);
}

std::string fields_html(const std::vector<std::pair<std::string, std::string>>& rows) {
  std::string html = "\n";
  for (const auto& [label, value] : rows) {
    html += element(
        "div", "",
        element("dt", "", shown(label)) + (value.empty() ? element("dd", "class=\"blank\"", "")
                                                         : element("dd", "", shown_prose(value))));
  }
  return element("dl", "", html);
}

std::string statement_html(const Statement& statement) {
  const bool grave = statement.weight == "danger" || statement.weight == "now";
  const std::string weight =
      statement.weight.empty()
          ? ""
          : fmt::format("<span class=\"weight\">{}</span>", shown(statement.weight));
  return element(
      "div", grave ? "class=\"statement grave\"" : "class=\"statement\"",
      "\n" + element("h3", "", weight + shown(statement.title)) + fields_html(statement.parts));
}

// Whether a cell holds words that a narrow column has to break.
bool has_long_word(std::string_view text) {
  constexpr int kLong = 16;
  while (!text.empty()) {
    const std::size_t end = text.find(' ');
    if (columns(text.substr(0, end)) > kLong) return true;
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return false;
}

std::string row_html(const Sheet& sheet, const std::vector<Cell>& row, bool wide) {
  std::string cells;
  for (std::size_t c = 0; c < row.size(); ++c) {
    std::string attributes = c == 0 ? "scope=\"row\"" : "";
    const auto add = [&attributes](const std::string& more) {
      attributes += (attributes.empty() ? "" : " ") + more;
    };
    if (sheet.columns[c].number && (row[c].value || row[c].text.empty())) {
      add("class=\"number\"");
    }
    if (!row[c].value) {
      constexpr int kBrief = 7;
      if (has_long_word(row[c].text)) add("class=\"long\"");
      if (!row[c].text.empty() && columns(row[c].text) <= kBrief) add("class=\"brief\"");
    }
    if (wide) {
      add(c == 0 ? "role=\"rowheader\"" : "role=\"cell\"");
      add(fmt::format("data-label=\"{}\"", shown(heading_of(sheet.columns[c]))));
    }
    const std::string text = shown_prose(row[c].text);
    cells +=
        element(c == 0 ? "th" : "td", attributes,
                wide && !text.empty() ? fmt::format("<span class=\"cell\">{}</span>", text) : text);
  }
  return element("tr", wide ? "role=\"row\"" : "", cells);
}

// Tables of more columns than a phone is wide become blocks there; roles keep them tables for
// those who listen to them.
std::string sheet_html(const Sheet& sheet) {
  constexpr std::size_t kNarrow = 3;
  constexpr std::size_t kForTablets = 6;
  const bool wide = sheet.columns.size() > kNarrow;
  const bool widest = sheet.columns.size() > kForTablets;
  const std::string table_class =
      wide ? fmt::format("class=\"{}\" role=\"table\"", widest ? "widest" : "wide") : "";
  std::string heads;
  for (const SheetColumn& column : sheet.columns) {
    heads += element("th",
                     fmt::format("scope=\"col\"{}{}", column.number ? " class=\"number\"" : "",
                                 wide ? " role=\"columnheader\"" : ""),
                     shown(heading_of(column)));
  }
  std::string rows = "\n";
  for (std::size_t r = 0; r < rows_shown(sheet); ++r) rows += row_html(sheet, sheet.rows[r], wide);
  const std::string group = wide ? "role=\"rowgroup\"" : "";
  std::string html =
      element("table", table_class,
              element("caption", "", shown(sheet.title)) +
                  element("thead", group, element("tr", wide ? "role=\"row\"" : "", heads)) +
                  element("tbody", group, rows));
  std::string notes;
  if (const std::string left = rows_left_words(sheet); !left.empty()) notes += paragraph(left);
  for (const std::string& note : sheet.notes) notes += paragraph(note);
  return notes.empty() ? html : html + element("div", "class=\"notes\"", "\n" + notes);
}

std::string block_html(const Block& block) {
  return std::visit(
      Overloaded{[](const Paragraph& one) { return paragraph(one.text); },
                 [](const Bullets& one) { return bullets_html(one); },
                 [](const Fields& one) { return fields_html(one.rows); },
                 [](const Statement& one) { return statement_html(one); },
                 [](const Sheet& one) { return sheet_html(one); },
                 [](const Drawing& one) { return element("figure", "", "\n" + one.svg); }},
      block);
}

// Drawings that follow each other stand in pairs where there is room.
std::string blocks_html(const std::vector<Block>& blocks) {
  std::string html;
  for (std::size_t i = 0; i < blocks.size();) {
    std::size_t end = i;
    while (end < blocks.size() && std::holds_alternative<Drawing>(blocks[end])) ++end;
    if (end - i < 2) {
      html += block_html(blocks[i++]);
      continue;
    }
    std::string figures = "\n";
    for (; i < end; ++i) figures += block_html(blocks[i]);
    html += element("div", "class=\"pair\"", figures);
  }
  return html;
}

std::string safety_html(const SafetyBlock& safety) {
  std::string html = "\n" + element("h2", "id=\"first\"", shown(safety.title));
  for (const std::string& sentence : safety.found) {
    html += element("p", "class=\"found\"", shown(sentence));
  }
  std::string groups = "\n";
  for (const auto& [title, sentences] : safety.groups) {
    groups += element("div", "class=\"group\"",
                      "\n" + element("h3", "", shown(title)) + bullets_html({sentences, false}));
  }
  html += element("div", "class=\"groups\"", groups);
  for (const std::string& sentence : safety.after) html += element("p", "", shown(sentence));
  return element("section", "class=\"first\" aria-labelledby=\"first\"", html);
}

std::string contents_html(const Record& record) {
  constexpr std::size_t kShort = 6;  // sections that need no list of them
  if (record.sections.size() <= kShort) return "";
  std::string items = "\n";
  for (const Section& section : record.sections) {
    items +=
        element("li", "", fmt::format("<a href=\"#{}\">{}</a>", section.id, shown(section.title)));
  }
  return element("nav", "class=\"contents\" aria-label=\"Contents\"",
                 "\n" + element("ul", "", items));
}

std::string section_html(const Section& section) {
  return element("section",
                 fmt::format("{}aria-labelledby=\"{}\"",
                             section.new_page ? "class=\"new-page\" " : "", section.id),
                 "\n" + element("h2", fmt::format("id=\"{}\"", section.id), shown(section.title)) +
                     blocks_html(section.blocks));
}

std::string_view page_size(std::string_view paper) {
  if (paper == "letter") return "@page { size: letter; }\n";
  if (paper == "a4") return "@page { size: A4; }\n";
  return "";
}

}  // namespace

std::string record_html(const Record& record, std::string_view paper) {
  const std::string title = fmt::format("{}: {}", record.house, record.title);
  // Nothing is fetched and nothing runs, whatever stands in the text; the empty icon keeps browsers
  // from asking for one.
  std::string html = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
      "style-src 'unsafe-inline'; img-src data:\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}</title>\n<link rel=\"icon\" href=\"data:,\">\n<style>{}{}</style>\n</head>\n",
      shown(title), page_size(paper), page_style());
  std::string body = "\n" + element("header", "",
                                    "\n" + element("h1", "", shown(record.house)) +
                                        element("p", "class=\"made\"",
                                                shown(record.title + ", made on " + record.date)));
  std::string main = "\n";
  if (record.safety) main += safety_html(*record.safety);
  main += contents_html(record);
  for (const Section& section : record.sections) main += section_html(section);
  body += element("main", "", main) +
          element("footer", "", "\n" + paragraph(record.foot) + paragraph(record.origin));
  html += element("body", fmt::format("class=\"for-{}\"", record.reader), body);
  return html + "</html>\n";
}

}  // namespace evenleg
