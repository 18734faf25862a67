// The written record before it takes a form: sections of blocks, the same for text, HTML, PDF,
// Markdown, CSV, XLSX and JSON.
//
// A figure is rounded once, here (base/format.h): `text` is what every form shows, `value` what
// programs get beside it. Texts may hold any characters that a name may; each form makes them fit.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "evenleg/drawing/drawing.h"

namespace evenleg {

struct Cell {
  std::string text;             // "" for nothing
  std::optional<double> value;  // a number, unrounded; absent for words

  Cell() = default;
  Cell(std::string words) : text(std::move(words)) {}  // words stand for a cell: not explicit
  Cell(const char* words) : text(words) {}
  Cell(std::string shown, double number) : text(std::move(shown)), value(number) {}
};

// Three significant digits; less than half a thousandth, as solvers leave of nothing, is 0. An
// empty cell for what is absent or not finite.
[[nodiscard]] Cell number(double value);
[[nodiscard]] Cell number(const std::optional<double>& value);
[[nodiscard]] Cell with_decimals(double value, int decimals);
// As a person wrote it: the shortest text.
[[nodiscard]] Cell as_given(const std::optional<double>& value);
// A tenth, or as many digits as an instrument showed, up to a thousandth.
[[nodiscard]] Cell as_read(const std::optional<double>& value);
[[nodiscard]] Cell count(std::size_t value);

struct SheetColumn {
  std::string heading;
  std::string unit;     // "V"; "" for words and counts
  bool number = false;  // figures stand to the right
};

// A table. Rows have as many cells as there are columns; the first column names its row.
struct Sheet {
  std::string name;   // "Ranking": unique within a record, at most 31 characters
  std::string title;  // says what the table shows
  std::vector<SheetColumn> columns;
  std::vector<std::vector<Cell>> rows;
  std::vector<std::string> notes;
  std::size_t most_shown = 0;  // rows of a page; 0: all. Spreadsheets and JSON have all.
};

struct Paragraph {
  std::string text;
};

struct Bullets {
  std::vector<std::string> items;
  bool numbered = false;
};

// Named fields; an empty value is a line to be filled in by hand.
struct Fields {
  std::vector<std::pair<std::string, std::string>> rows;
};

// What was seen, what that amounts to and what is advised.
struct Statement {
  std::string title;                                       // "Main, spaces 21 and 22"
  std::string weight;                                      // "danger", "now"; "" for none
  std::vector<std::pair<std::string, std::string>> parts;  // as Fields
};

using Block = std::variant<Paragraph, Bullets, Fields, Statement, Sheet, Drawing>;

struct Section {
  std::string id;  // "ranking": as --sections takes it
  std::string title;
  std::vector<Block> blocks;
  bool new_page = false;  // in print
};

// What stands above all else where an open neutral would endanger something; no option leaves it
// out.
struct SafetyBlock {
  std::string title;
  std::vector<std::string> found;  // what the record has to say of it, a sentence each
  std::vector<std::pair<std::string, std::vector<std::string>>> groups;  // title, sentences
  std::vector<std::string> after;  // what is told once it is said what to do
};

struct Record {
  std::string title;   // "Electrician's record"
  std::string house;   // its name
  std::string reader;  // "electrician"
  std::string date;    // on which it was made
  std::optional<SafetyBlock> safety;
  std::vector<Section> sections;
  std::string foot;    // the standing caution
  std::string origin;  // program, house file, revision, date: a sentence
};

}  // namespace evenleg
