// Reads the forms of a record back, so that they can be held against each other.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenleg {

using Rows = std::vector<std::vector<std::string>>;

// Records of a CSV text, quotes undone (RFC 4180).
[[nodiscard]] Rows csv_records(std::string_view text);

// The tables of a page by caption: heads first, then rows; markup taken off, entities undone.
[[nodiscard]] std::map<std::string, Rows> page_tables(std::string_view html);
// A page's text without its tags, entities undone.
[[nodiscard]] std::string page_text(std::string_view html);

// A cell of a workbook: a string, or a number and the format that it is shown with.
struct BookCell {
  std::string text;
  std::optional<double> number;
  std::string format;
};
// By sheet, by reference ("B7").
using Book = std::map<std::string, std::map<std::string, BookCell>>;
// Throws: std::runtime_error for what is no workbook.
[[nodiscard]] Book read_book(const std::string& bytes);
// Whether any cell of any sheet holds a formula.
[[nodiscard]] bool holds_formula(const std::string& bytes);

// "B7" of row 6 and column 1, both from 0.
[[nodiscard]] std::string reference(std::size_t row, std::size_t column);

}  // namespace evenleg
