#include <fmt/format.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <map>
#include <memory>
#include <numeric>

#include "evenleg/base/error.h"
#include "evenleg/base/files.h"
#include "evenleg/base/format.h"
#include "evenleg/base/markup.h"
#include "evenleg/record/record.h"
#include "src/record/blocks.h"

namespace evenleg {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostInCell = 32767;  // characters; a limit of the format
constexpr double kWidest = 48;              // columns of a sheet, characters
constexpr double kLine = 15;                // height of a line, points

Error failure(const std::string& what) {
  return {ErrorKind::File,
          {"workbook", what, "check that there is space in the folder for temporary files"}};
}

// A file of our own in the folder for temporary files, gone with the object.
class TemporaryFile {
 public:
  TemporaryFile() : path_((fs::temp_directory_path() / "evenleg-XXXXXX").string()) {
    const int file = mkstemp(path_.data());
    if (file < 0) throw failure("no temporary file can be made");
    close(file);
  }
  ~TemporaryFile() {
    std::error_code ignored;
    fs::remove(path_, ignored);
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;

  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

// Cut between characters.
std::string for_cell(const std::string& text) {
  const std::string plain = plain_text(text);
  return columns(plain) > static_cast<int>(kMostInCell) ? shortened(plain, kMostInCell) : plain;
}

class Workbook {
 public:
  Workbook(const std::string& path, const Record& record)
      : record_(record), book_(workbook_new(path.c_str())) {
    if (book_ == nullptr) throw failure("it cannot be begun");
    wrapped_ = workbook_add_format(book_);
    format_set_text_wrap(wrapped_);
    format_set_align(wrapped_, LXW_ALIGN_VERTICAL_TOP);
    bold_ = workbook_add_format(book_);
    format_set_bold(bold_);
    format_set_bottom(bold_, LXW_BORDER_THIN);
    set_properties();
  }

  void fill() {
    add_opening();
    for (const Sheet* sheet : sheets_of(record_)) add(*sheet);
  }
  void finish() {
    const lxw_error status = workbook_close(book_);
    if (status != LXW_NO_ERROR) throw failure(lxw_strerror(status));
  }

 private:
  // The same record gives the same bytes: the day stands for the time of making.
  void set_properties() {
    title_ = for_cell(record_.house + ": " + record_.title);
    lxw_doc_properties properties{};
    properties.title = title_.data();
    std::tm day{};
    day.tm_year = std::atoi(record_.date.substr(0, 4).c_str()) - 1900;
    day.tm_mon = record_.date.size() >= 7 ? std::atoi(record_.date.substr(5, 2).c_str()) - 1 : 0;
    day.tm_mday = record_.date.size() >= 10 ? std::atoi(record_.date.substr(8, 2).c_str()) : 1;
    properties.created = timegm(&day);
    workbook_set_properties(book_, &properties);
  }

  void add_opening() {
    lxw_worksheet* sheet = workbook_add_worksheet(book_, "Read first");
    constexpr double kWidth = 100;
    worksheet_set_column(sheet, 0, 0, kWidth, wrapped_);
    lxw_row_t row = 0;
    for (const std::string& line : opening_lines(record_)) {
      set_height(sheet, row, lines_in(line, kWidth));
      write(sheet, row++, 0, Cell(line));
    }
    set_print(sheet);
  }

  // Lines that a text takes in a column; a few columns are lost where words part.
  static int lines_in(const std::string& text, double width) {
    constexpr double kLost = 6;
    const double room = std::max(1.0, width - (width > 2 * kLost ? kLost : 0));
    return std::max(1, static_cast<int>(std::ceil(columns(text) / room)));
  }

  // Office programs do not all work a row's height out themselves.
  static void set_height(lxw_worksheet* sheet, lxw_row_t row, int lines) {
    if (lines > 1) worksheet_set_row(sheet, row, kLine * lines, nullptr);
  }

  static void set_print(lxw_worksheet* sheet) {
    worksheet_set_landscape(sheet);
    worksheet_fit_to_pages(sheet, 1, 0);
  }

  // Strings stay strings: what looks like a formula is never one. Numbers as they are shown.
  void write(lxw_worksheet* sheet, lxw_row_t row, lxw_col_t column, const Cell& cell) {
    if (!cell.value) {
      if (!cell.text.empty()) {
        worksheet_write_string(sheet, row, column, for_cell(cell.text).c_str(), wrapped_);
      }
      return;
    }
    const std::size_t point = cell.text.find('.');
    const std::size_t decimals = point == std::string::npos ? 0 : cell.text.size() - point - 1;
    worksheet_write_number(sheet, row, column, std::strtod(cell.text.c_str(), nullptr),
                           number_format(decimals));
  }

  lxw_format* number_format(std::size_t decimals) {
    lxw_format*& format = formats_[decimals];
    if (format == nullptr) {
      format = workbook_add_format(book_);
      format_set_num_format(format,
                            (decimals == 0 ? "0" : "0." + std::string(decimals, '0')).c_str());
      format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
    }
    return format;
  }

  void add(const Sheet& sheet) {
    lxw_worksheet* page = workbook_add_worksheet(book_, sheet.name.c_str());
    if (page == nullptr) throw failure("it cannot take the sheet " + sheet.name);
    std::vector<std::string> names;
    for (const SheetColumn& column : sheet.columns) names.push_back(heading_of(column));
    std::vector<lxw_table_column> heads(names.size());
    std::vector<lxw_table_column*> pointers;
    for (std::size_t c = 0; c < names.size(); ++c) {
      heads[c].header = names[c].data();
      heads[c].header_format = bold_;
      pointers.push_back(&heads[c]);
    }
    pointers.push_back(nullptr);
    lxw_table_options options{};
    options.columns = pointers.data();
    options.style_type = LXW_TABLE_STYLE_TYPE_LIGHT;
    options.style_type_number = 1;
    const auto last_row = static_cast<lxw_row_t>(sheet.rows.size());
    const auto last_column = static_cast<lxw_col_t>(names.size() - 1);
    if (worksheet_add_table(page, 0, 0, last_row, last_column, &options) != LXW_NO_ERROR) {
      throw failure("it cannot take the table " + sheet.name);
    }
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) {
      for (std::size_t c = 0; c < sheet.rows[r].size(); ++c) {
        write(page, static_cast<lxw_row_t>(r + 1), static_cast<lxw_col_t>(c), sheet.rows[r][c]);
      }
    }
    const std::vector<double> widths = widths_of(sheet, names);
    for (std::size_t c = 0; c < widths.size(); ++c) {
      const auto column = static_cast<lxw_col_t>(c);
      worksheet_set_column(page, column, column, widths[c], nullptr);
    }
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) {
      int lines = 1;
      for (std::size_t c = 0; c < widths.size(); ++c) {
        if (columns(sheet.rows[r][c].text) < widths[c]) continue;
        lines = std::max(lines, lines_in(sheet.rows[r][c].text, widths[c]));
      }
      set_height(page, static_cast<lxw_row_t>(r + 1), lines);
    }
    const double whole = std::accumulate(widths.begin(), widths.end(), 0.0);
    auto row = last_row + 2;
    write_note(page, row++, last_column, whole, sheet.title);
    for (const std::string& note : sheet.notes) write_note(page, row++, last_column, whole, note);
    worksheet_freeze_panes(page, 1, 1);
    worksheet_repeat_rows(page, 0, 0);
    set_print(page);
  }

  // Below the table and as wide as it is, so that a print of it stays readable.
  void write_note(lxw_worksheet* page, lxw_row_t row, lxw_col_t last_column, double width,
                  const std::string& note) {
    if (last_column > 0) {
      worksheet_merge_range(page, row, 0, row, last_column, "", wrapped_);
    }
    worksheet_write_string(page, row, 0, for_cell(note).c_str(), wrapped_);
    set_height(page, row, lines_in(note, width));
  }

  static std::vector<double> widths_of(const Sheet& sheet, const std::vector<std::string>& names) {
    std::vector<double> widths;
    for (std::size_t c = 0; c < names.size(); ++c) {
      constexpr double kButton = 3;  // of the table's filter, in the head
      double width = columns(names[c]) + kButton;
      for (const auto& row : sheet.rows) {
        width = std::max(width, static_cast<double>(columns(row[c].text)) + 1);
      }
      widths.push_back(std::min(width, kWidest));
    }
    return widths;
  }

  const Record& record_;
  lxw_workbook* book_;
  lxw_format* wrapped_ = nullptr;
  lxw_format* bold_ = nullptr;
  std::map<std::size_t, lxw_format*> formats_;
  std::string title_;
};

}  // namespace

std::string record_xlsx(const Record& record) {
  const TemporaryFile file;
  Workbook book(file.path(), record);
  book.fill();
  book.finish();
  return read_file(file.path());
}

}  // namespace evenleg
