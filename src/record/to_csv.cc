#include "evenleg/base/markup.h"
#include "evenleg/record/record.h"
#include "src/record/blocks.h"

namespace evenleg {
namespace {

// As RFC 4180 has it. Words that a spreadsheet program would take for a formula are led by an
// apostrophe, which such programs show or drop, and never run.
std::string field(const std::string& text, bool words) {
  std::string plain = plain_text(text);
  if (words && !plain.empty()) {
    constexpr std::string_view kOfFormulas = "=+-@";
    const std::size_t first = plain.find_first_not_of(' ');
    const bool number = plain == "-";
    if (!number && first != std::string::npos &&
        kOfFormulas.find(plain[first]) != std::string_view::npos) {
      plain.insert(0, 1, '\'');
    }
  }
  if (plain.find_first_of(",\"\n\r;") == std::string::npos) return plain;
  std::string quoted = "\"";
  for (const char c : plain) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

std::string sheet_csv(const Sheet& sheet) {
  std::string text = field(sheet.name, true) + "\n";
  for (std::size_t c = 0; c < sheet.columns.size(); ++c) {
    text += (c == 0 ? "" : ",") + field(heading_of(sheet.columns[c]), true);
  }
  text += "\n";
  for (const auto& row : sheet.rows) {
    for (std::size_t c = 0; c < row.size(); ++c) {
      text += (c == 0 ? "" : ",") + field(row[c].text, !row[c].value);
    }
    text += "\n";
  }
  for (const std::string& note : sheet.notes) text += field(note, true) + "\n";
  return text;
}

}  // namespace

std::string record_csv(const Record& record) {
  std::string text;
  for (const std::string& line : opening_lines(record)) text += field(line, true) + "\n";
  for (const Sheet* sheet : sheets_of(record)) text += "\n" + sheet_csv(*sheet);
  return text;
}

}  // namespace evenleg
