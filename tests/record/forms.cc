#include "tests/record/forms.h"

#include <minizip/unzip.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace evenleg {
namespace {

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

std::string without_entities(std::string text) {
  for (const auto& [from, to] :
       {std::pair{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}}) {
    text = replaced(std::move(text), from, to);
  }
  // The isolates around letters from right to left are of the page, not of the name.
  return replaced(replaced(std::move(text), "\xE2\x81\xA8", ""), "\xE2\x81\xA9", "");
}

std::string without_tags(std::string_view markup) {
  std::string text;
  bool in_tag = false;
  for (const char c : markup) {
    if (c == '<') in_tag = true;
    if (!in_tag) text += c;
    if (c == '>') in_tag = false;
  }
  return text;
}

std::string trimmed(std::string text) {
  const std::size_t from = text.find_first_not_of(" \n");
  if (from == std::string::npos) return "";
  return text.substr(from, text.find_last_not_of(" \n") - from + 1);
}

// What stands between each `open` (a whole tag, or its beginning) and the next `close`.
std::vector<std::string_view> between(std::string_view text, std::string_view open,
                                      std::string_view close) {
  std::vector<std::string_view> found;
  for (std::size_t at = text.find(open); at != std::string_view::npos;) {
    const std::size_t from = text.find('>', at) + 1;
    const std::size_t end = text.find(close, from);
    if (end == std::string_view::npos) break;
    found.push_back(text.substr(from, end - from));
    at = text.find(open, end);
  }
  return found;
}

std::string attribute(std::string_view tag, std::string_view name) {
  const std::size_t at = tag.find(std::string(" ") + std::string(name) + "=\"");
  if (at == std::string_view::npos) return "";
  const std::size_t from = at + name.size() + 3;
  return std::string(tag.substr(from, tag.find('"', from) - from));
}

// A workbook's parts, unpacked.
class Parts {
 public:
  explicit Parts(const std::string& bytes)
      : path_((std::filesystem::temp_directory_path() / "evenleg-book-XXXXXX").string()) {
    const int file = mkstemp(path_.data());
    if (file < 0) throw std::runtime_error("no temporary file");
    close(file);
    std::ofstream(path_, std::ios::binary) << bytes;
    zip_ = unzOpen(path_.c_str());
    if (zip_ == nullptr) throw std::runtime_error("no workbook");
  }
  ~Parts() {
    unzClose(zip_);
    std::filesystem::remove(path_);
  }
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;

  [[nodiscard]] std::string part(const std::string& name) const {
    if (unzLocateFile(zip_, name.c_str(), 1) != UNZ_OK) throw std::runtime_error("no " + name);
    unzOpenCurrentFile(zip_);
    std::string text;
    char buffer[4096];
    for (int read = 1; read > 0;) {
      read = unzReadCurrentFile(zip_, buffer, sizeof buffer);
      if (read > 0) text.append(buffer, static_cast<std::size_t>(read));
    }
    unzCloseCurrentFile(zip_);
    return text;
  }

 private:
  std::string path_;
  unzFile zip_ = nullptr;
};

std::vector<std::string> shared_strings(const Parts& parts) {
  std::vector<std::string> strings;
  const std::string text = parts.part("xl/sharedStrings.xml");
  for (const std::string_view one : between(text, "<si>", "</si>")) {
    strings.push_back(without_entities(without_tags(one)));
  }
  return strings;
}

// Number formats by the index that a cell's style names.
std::vector<std::string> cell_formats(const Parts& parts) {
  const std::string styles = parts.part("xl/styles.xml");
  std::map<std::string, std::string> codes{{"0", "General"}, {"1", "0"}, {"2", "0.00"}};
  for (std::size_t at = styles.find("<numFmt "); at != std::string::npos;
       at = styles.find("<numFmt ", at + 1)) {
    const std::string tag = styles.substr(at, styles.find('>', at) - at);
    codes[attribute(tag, "numFmtId")] = attribute(tag, "formatCode");
  }
  std::vector<std::string> formats;
  const std::size_t from = styles.find("<cellXfs"), end = styles.find("</cellXfs>");
  for (std::size_t at = styles.find("<xf ", from); at < end; at = styles.find("<xf ", at + 1)) {
    formats.push_back(codes[attribute(styles.substr(at, styles.find('>', at) - at), "numFmtId")]);
  }
  return formats;
}

}  // namespace

Rows csv_records(std::string_view text) {
  Rows rows{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '"') {
      if (quoted && i + 1 < text.size() && text[i + 1] == '"') {
        rows.back().back() += text[++i];
      } else {
        quoted = !quoted;
      }
    } else if (!quoted && c == ',') {
      rows.back().emplace_back();
    } else if (!quoted && c == '\n') {
      rows.push_back({""});
    } else {
      rows.back().back() += c;
    }
  }
  return rows;
}

std::string page_text(std::string_view html) { return without_entities(without_tags(html)); }

std::map<std::string, Rows> page_tables(std::string_view html) {
  std::map<std::string, Rows> tables;
  for (const std::string_view table : between(html, "<table", "</table>")) {
    Rows rows;
    for (const std::string_view row : between(table, "<tr", "</tr>")) {
      std::vector<std::string> cells;
      for (std::size_t at = row.find('<'); at != std::string_view::npos;
           at = row.find('<', at + 1)) {
        const bool head = row.substr(at, 3) == "<th", cell = row.substr(at, 3) == "<td";
        if (!head && !cell) continue;
        const std::size_t from = row.find('>', at) + 1;
        const std::size_t end = row.find(head ? "</th>" : "</td>", from);
        cells.push_back(trimmed(without_entities(without_tags(row.substr(from, end - from)))));
      }
      rows.push_back(std::move(cells));
    }
    const auto captions = between(table, "<caption", "</caption>");
    tables[captions.empty() ? "" : without_entities(std::string(captions.front()))] =
        std::move(rows);
  }
  return tables;
}

Book read_book(const std::string& bytes) {
  const Parts parts(bytes);
  const std::vector<std::string> strings = shared_strings(parts);
  const std::vector<std::string> formats = cell_formats(parts);
  const std::string workbook = parts.part("xl/workbook.xml");
  Book book;
  int number = 0;
  for (std::size_t at = workbook.find("<sheet "); at != std::string::npos;
       at = workbook.find("<sheet ", at + 1)) {
    const std::string name = attribute(workbook.substr(at, workbook.find('>', at) - at), "name");
    const std::string sheet = parts.part("xl/worksheets/sheet" + std::to_string(++number) + ".xml");
    auto& cells = book[name];
    for (std::size_t cell = sheet.find("<c r="); cell != std::string::npos;
         cell = sheet.find("<c r=", cell + 1)) {
      const std::string tag = sheet.substr(cell, sheet.find('>', cell) - cell);
      const std::size_t value = sheet.find("<v>", cell);
      if (value == std::string::npos || value > sheet.find("</c>", cell)) continue;
      const std::string text = sheet.substr(value + 3, sheet.find("</v>", value) - value - 3);
      BookCell& one = cells[attribute(tag, "r")];
      if (attribute(tag, "t") == "s") {
        one.text = strings.at(static_cast<std::size_t>(std::stoi(text)));
      } else {
        one.number = std::stod(text);
        const std::string style = attribute(tag, "s");
        one.format = formats.at(style.empty() ? 0 : static_cast<std::size_t>(std::stoi(style)));
      }
    }
  }
  return book;
}

bool holds_formula(const std::string& bytes) {
  const Parts parts(bytes);
  const std::size_t sheets = read_book(bytes).size();
  for (std::size_t sheet = 1; sheet <= sheets; ++sheet) {
    const std::string text = parts.part("xl/worksheets/sheet" + std::to_string(sheet) + ".xml");
    if (text.find("<f>") != std::string::npos || text.find("<f ") != std::string::npos) return true;
  }
  return false;
}

std::string reference(std::size_t row, std::size_t column) {
  std::string letters;
  for (std::size_t left = column + 1; left > 0; left = (left - 1) / 26) {
    letters.insert(letters.begin(), static_cast<char>('A' + (left - 1) % 26));
  }
  return letters + std::to_string(row + 1);
}

}  // namespace evenleg
