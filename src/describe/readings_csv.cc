#include "evenleg/describe/readings_csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "evenleg/house/fields.h"
#include "src/describe/csv_rows.h"

namespace evenleg {
namespace {

using ReadingField = Field<Reading>;

std::string trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return "";
  return std::string(text.substr(from, text.find_last_not_of(" \t") - from + 1));
}

std::vector<std::string> names_in(const std::string& text) {
  std::vector<std::string> names(1);
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\\' && i + 1 < text.size() && (text[i + 1] == ';' || text[i + 1] == '\\')) {
      names.back() += text[++i];
    } else if (text[i] == ';') {
      names.emplace_back();
    } else {
      names.back() += text[i];
    }
  }
  for (std::string& name : names) name = trimmed(name);
  std::erase_if(names, [](const std::string& name) { return name.empty(); });
  return names;
}

std::optional<double> number_in(std::string text, char separator) {
  if (separator == ';') std::replace(text.begin(), text.end(), ',', '.');
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::optional<Value> value_in(const ReadingField& field, const std::string& text, char separator) {
  switch (field.type) {
    case FieldType::Flag:
      if (text == "true" || text == "yes" || text == "1") return true;
      if (text == "false" || text == "no" || text == "0") return false;
      return std::nullopt;
    case FieldType::Number:
      if (const auto number = number_in(text, separator)) return *number;
      return std::nullopt;
    case FieldType::TextList:
      return names_in(text);
    default:
      return text;
  }
}

std::string text_in(const Value& value) {
  if (const auto* text = std::get_if<std::string>(&value)) return *text;
  if (const auto* number = std::get_if<double>(&value)) return exact(*number);
  if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "";
  std::string names;
  if (const auto* list = std::get_if<std::vector<std::string>>(&value)) {
    for (const std::string& name : *list) {
      if (!names.empty()) names += ";";
      for (const char c : name) {
        if (c == ';' || c == '\\') names += '\\';
        names += c;
      }
    }
  }
  return names;
}

class Reader {
 public:
  Reader(std::string_view text, std::string_view name) : name_(name), csv_(csv_rows(text)) {}

  std::vector<Reading> readings() {
    if (csv_.open_quote) {
      fault(csv_.at_quote, "a quotation mark that is never closed", "close it");
    } else if (csv_.rows.empty()) {
      fault({}, "there is nothing in it", "head its columns with keys of a reading, \"at\" first");
    } else {
      head();
      const bool headed = faults_.empty();
      for (std::size_t r = 1; headed && r < csv_.rows.size(); ++r) add(csv_.rows[r]);
    }
    if (!faults_.empty()) throw Error(ErrorKind::Request, faults_);
    return readings_;
  }

 private:
  void fault(const CsvField& at, std::string what, std::string remedy) {
    faults_.push_back(
        {fmt::format("{}:{}:{}", name_, at.line, at.column), std::move(what), std::move(remedy)});
  }

  void head() {
    const auto fields = fields_of<Reading>();
    std::vector<std::string> known;
    for (const ReadingField& field : fields) known.emplace_back(field.key);
    for (const CsvField& heading : csv_.rows.front()) {
      const std::string key = trimmed(heading.text);
      const auto found = std::find_if(fields.begin(), fields.end(),
                                      [&](const ReadingField& field) { return field.key == key; });
      columns_.push_back(found == fields.end() ? nullptr : &*found);
      const auto same = std::count(columns_.begin(), columns_.end(), columns_.back());
      if (columns_.back() == nullptr) {
        const auto close = nearest(key, known);
        fault(heading, fmt::format("a reading has no key \"{}\"", shortened(key, 40)),
              close ? fmt::format("did you mean \"{}\"?", *close)
                    : "remove the column, or head it with a key of a reading");
      } else if (same > 1) {
        fault(heading, fmt::format("two columns are headed \"{}\"", key), "remove one of them");
      }
    }
    const bool placed = std::any_of(
        columns_.begin(), columns_.end(),
        [](const ReadingField* field) { return field != nullptr && field->key == "at"; });
    if (!placed && faults_.empty()) {
      fault(csv_.rows.front().front(), "no column is headed \"at\"",
            "add the panel or outlet of each reading");
    }
  }

  void add(const std::vector<CsvField>& row) {
    Reading reading;
    if (row.size() > columns_.size()) {
      fault(row[columns_.size()],
            fmt::format("{} fields under {} headings", row.size(), columns_.size()),
            "quote a field that holds the separator, or head the column");
      return;
    }
    const std::size_t faults = faults_.size();
    for (std::size_t i = 0; i < row.size(); ++i) set(*columns_[i], row[i], reading);
    if (reading.at.empty() && faults_.size() == faults) {
      fault(row.front(), "a reading without a place", "name the panel or outlet under \"at\"");
    }
    readings_.push_back(std::move(reading));
  }

  void set(const ReadingField& field, const CsvField& cell, Reading& reading) {
    const bool as_it_is = cell.quoted && field.type == FieldType::Text;
    if (cell.beyond_quote) {
      return fault(cell, fmt::format("{}: text after the closing quotation mark", field.key),
                   "double a quotation mark inside quotes, or put the separator after the last");
    }
    const std::string text = as_it_is ? cell.text : trimmed(cell.text);
    if (text.empty()) return;
    const auto value = value_in(field, text, csv_.separator);
    if (!value) {
      return fault(cell, fmt::format("{} = \"{}\"", field.key, shortened(text, 40)),
                   fmt::format("it must be {}", expected(field)));
    }
    if (const auto wrong = fault_of(field, *value)) {
      return fault(cell, *wrong, "correct the value, or leave the field empty");
    }
    field.set(reading, *value);
  }

  std::string name_;
  CsvRows csv_;
  std::vector<const ReadingField*> columns_;
  std::vector<Reading> readings_;
  std::vector<Fault> faults_;
};

}  // namespace

std::vector<Reading> read_readings_csv(std::string_view text, std::string_view name) {
  return Reader(text, name).readings();
}

std::string write_readings_csv(const std::vector<Reading>& readings) {
  std::vector<const ReadingField*> used;
  for (const ReadingField& field : fields_of<Reading>()) {
    const bool any = std::any_of(readings.begin(), readings.end(), [&](const Reading& reading) {
      return !text_in(field.get(reading)).empty();
    });
    if (any || field.key == "at") used.push_back(&field);
  }
  std::string text;
  for (const ReadingField* field : used) {
    text += (text.empty() ? "" : ",") + std::string(field->key);
  }
  text += "\n";
  for (const Reading& reading : readings) {
    std::string line;
    for (const ReadingField* field : used) {
      if (field != used.front()) line += ",";
      line += csv_field(text_in(field->get(reading)));
    }
    text += line + "\n";
  }
  return text;
}

}  // namespace evenleg
