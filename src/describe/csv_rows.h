// The fields of comma separated text, each with its place.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace evenleg {

struct CsvField {
  std::string text;
  int line = 1;
  int column = 1;  // in bytes
  bool quoted = false;
  bool beyond_quote = false;  // text follows its closing quote
};

struct CsvRows {
  char separator = ',';
  std::vector<std::vector<CsvField>> rows;  // without empty lines
  bool open_quote = false;                  // a quote that never closes
  CsvField at_quote;
};

// The separator is the first of tab, semicolon and comma that the first line has outside quotes.
[[nodiscard]] CsvRows csv_rows(std::string_view text);

// A field as it stands in a line: quoted where it holds a separator, a quote or a line end.
[[nodiscard]] std::string csv_field(std::string_view text);

}  // namespace evenleg
