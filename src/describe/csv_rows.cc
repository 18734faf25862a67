#include "src/describe/csv_rows.h"

#include <array>

namespace evenleg {
namespace {

char separator_of(std::string_view text) {
  constexpr std::array<char, 3> kSeparators{'\t', ';', ','};
  std::string plain;
  bool quoted = false;
  for (const char c : text) {
    if (c == '\n' && !quoted) break;
    if (c == '"') quoted = !quoted;
    if (!quoted) plain += c;
  }
  for (const char separator : kSeparators) {
    if (plain.find(separator) != std::string::npos) return separator;
  }
  return ',';
}

bool is_blank(const std::string& text) { return text.find_first_not_of(' ') == std::string::npos; }

// Walks the text by RFC 4180.
class Walker {
 public:
  explicit Walker(std::string_view text) : text_(text) { result_.separator = separator_of(text); }

  CsvRows rows() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (quoted_) {
        in_quotes(c);
      } else if (c == '"' && !field_.quoted && is_blank(field_.text)) {
        field_.text.clear();
        quoted_ = field_.quoted = true;
        result_.at_quote = {"", line_, column_, true, false};
        step();
      } else if (c == result_.separator) {
        end_field();
        step();
        begin_field();
      } else if (c == '\n') {
        end_row();
      } else {
        if (!ends_line(c)) outside_quotes(c);
        step();
      }
    }
    result_.open_quote = quoted_;
    if (!row_.empty() || !field_.text.empty()) end_row();
    return std::move(result_);
  }

 private:
  void step() {
    ++at_;
    ++column_;
  }

  void in_quotes(char c) {
    if (c == '"' && at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
      field_.text += c;
      step();
    } else if (c == '"') {
      quoted_ = false;
    } else {
      field_.text += c;
    }
    step();
    if (c == '\n') {
      ++line_;
      column_ = 1;
    }
  }

  // The carriage return of a line that ends in two characters.
  [[nodiscard]] bool ends_line(char c) const {
    return c == '\r' && (at_ + 1 == text_.size() || text_[at_ + 1] == '\n');
  }

  void outside_quotes(char c) {
    if (field_.quoted && c == ' ') return;
    field_.beyond_quote = field_.beyond_quote || field_.quoted;
    field_.text += c;
  }

  void begin_field() { field_ = {"", line_, column_, false, false}; }

  void end_field() { row_.push_back(field_); }

  void end_row() {
    end_field();
    const bool empty = row_.size() == 1 && row_.front().text.empty();
    if (!empty) result_.rows.push_back(row_);
    row_.clear();
    ++at_;
    ++line_;
    column_ = 1;
    begin_field();
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
  bool quoted_ = false;
  CsvField field_;
  std::vector<CsvField> row_;
  CsvRows result_;
};

}  // namespace

CsvRows csv_rows(std::string_view text) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";  // byte order mark
  if (text.starts_with(kMark)) text.remove_prefix(kMark.size());
  return Walker(text).rows();
}

std::string csv_field(std::string_view text) {
  const bool plain = text.find_first_of(",;\t\"\r\n") == std::string_view::npos &&
                     (text.empty() || (text.front() != ' ' && text.back() != ' '));
  if (plain) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

}  // namespace evenleg
