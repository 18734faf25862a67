// One figure reads the same in JSON, CSV, a workbook, a page, Markdown and text. Each form is read
// back from its own bytes; JSON, which has the unrounded value beside the text, is held to the
// rounding rule as well.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/record/forms.h"
#include "tests/record/sample_job.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

struct Table {
  std::string name, title;
  std::vector<std::string> heads;
  Rows rows;                                               // as shown
  std::vector<std::vector<std::optional<double>>> values;  // unrounded
};

std::vector<Table> tables_of(const Json& record) {
  std::vector<Table> tables;
  for (const Json& section : record["sections"]) {
    for (const Json& block : section["blocks"]) {
      if (!block.contains("table")) continue;
      Table table{block["table"], block["title"], {}, {}, {}};
      for (const Json& column : block["columns"]) {
        const std::string unit = column["unit"];
        table.heads.push_back(std::string(column["heading"]) + (unit.empty() ? "" : ", " + unit));
      }
      for (const Json& row : block["rows"]) {
        table.rows.emplace_back();
        table.values.emplace_back();
        for (const Json& cell : row) {
          table.rows.back().push_back(cell.is_string() ? cell : cell["text"]);
          table.values.back().push_back(cell.is_string() ? std::nullopt
                                                         : std::optional<double>(cell["value"]));
        }
      }
      tables.push_back(std::move(table));
    }
  }
  return tables;
}

// Half a unit of the last digit shown, and what the binary form adds.
bool is_rounded(double value, const std::string& shown) {
  const std::size_t point = shown.find('.');
  const auto decimals = point == std::string::npos ? 0 : static_cast<int>(shown.size() - point - 1);
  const double step = std::pow(10.0, -decimals);
  return std::abs(value - std::stod(shown)) <= step / 2 + 1e-9 * std::abs(value);
}

std::string without_apostrophe(const std::string& cell) {
  const bool led =
      cell.size() > 1 && cell[0] == '\'' &&
      std::string("=+-@").find(cell[cell.find_first_not_of(' ', 1)]) != std::string::npos;
  return led ? cell.substr(1) : cell;
}

// Prose keeps its line ends on a page only.
std::string on_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

void hold_csv(const std::vector<Table>& tables, const std::string& csv) {
  const Rows records = csv_records(csv);
  for (const Table& table : tables) {
    if (table.rows.empty()) continue;
    CAPTURE(table.name);
    const auto at = std::find(records.begin(), records.end(), std::vector<std::string>{table.name});
    REQUIRE(records.end() - at > static_cast<std::ptrdiff_t>(table.rows.size() + 1));
    CHECK(*(at + 1) == table.heads);
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
      const std::vector<std::string>& record = *(at + 2 + static_cast<std::ptrdiff_t>(r));
      REQUIRE(record.size() == table.rows[r].size());
      for (std::size_t c = 0; c < record.size(); ++c) {
        CHECK(without_apostrophe(record[c]) == on_one_line(table.rows[r][c]));
      }
    }
  }
}

void hold_book(const std::vector<Table>& tables, const std::string& bytes) {
  const Book book = read_book(bytes);
  for (const Table& table : tables) {
    if (table.rows.empty()) continue;
    CAPTURE(table.name);
    const auto sheet = book.find(table.name);
    REQUIRE(sheet != book.end());
    for (std::size_t c = 0; c < table.heads.size(); ++c) {
      CHECK(sheet->second.at(reference(0, c)).text == table.heads[c]);
    }
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
      for (std::size_t c = 0; c < table.heads.size(); ++c) {
        const std::string& shown = table.rows[r][c];
        const auto cell = sheet->second.find(reference(r + 1, c));
        if (shown.empty()) {
          CHECK(cell == sheet->second.end());
          continue;
        }
        REQUIRE(cell != sheet->second.end());
        if (!table.values[r][c]) {
          CHECK(cell->second.text == on_one_line(shown));
          continue;
        }
        REQUIRE(cell->second.number);
        CHECK(*cell->second.number == std::stod(shown));
        // Shown with as many decimals.
        const std::size_t point = shown.find('.');
        CHECK(
            cell->second.format ==
            (point == std::string::npos ? "0" : "0." + std::string(shown.size() - point - 1, '0')));
      }
    }
  }
}

void hold_page(const std::vector<Table>& tables, const std::string& html) {
  const std::map<std::string, Rows> on_page = page_tables(html);
  for (const Table& table : tables) {
    CAPTURE(table.name);
    const auto found = on_page.find(table.title);
    REQUIRE(found != on_page.end());
    REQUIRE(found->second.size() >= 1);
    CHECK(found->second.front() == table.heads);
    for (std::size_t r = 0; r + 1 < found->second.size(); ++r) {
      REQUIRE(found->second[r + 1].size() == table.heads.size());
      for (std::size_t c = 0; c < table.heads.size(); ++c) {
        CHECK(on_one_line(found->second[r + 1][c]) == on_one_line(table.rows[r][c]));
      }
    }
  }
}

void hold_markdown(const std::vector<Table>& tables, const std::string& markdown) {
  for (const Table& table : tables) {
    CAPTURE(table.name);
    for (std::size_t r = 0; r < std::min<std::size_t>(20, table.rows.size()); ++r) {
      std::string figures;  // those that follow each other, as one piece of the row
      for (std::size_t c = 0; c < table.heads.size(); ++c) {
        if (table.values[r][c]) figures = "| " + table.rows[r][c] + " |";
        if (!figures.empty()) CHECK(markdown.find(figures) != std::string::npos);
      }
    }
  }
}

// In text a row's figures stand in its first line, in order.
void hold_text(const std::vector<Table>& tables, const std::string& text) {
  std::istringstream in(text);
  std::vector<std::vector<std::string>> lines;
  for (std::string line; std::getline(in, line);) {
    std::istringstream words(line);
    lines.emplace_back();
    for (std::string word; words >> word;) lines.back().push_back(word);
  }
  for (const Table& table : tables) {
    if (table.rows.empty()) continue;
    const auto& first = table.values.front();
    constexpr std::ptrdiff_t kOnOnePage = 6;  // of more figures the rest stands in a table below
    if (std::count_if(first.begin(), first.end(), [](const auto& one) { return one.has_value(); }) >
        kOnOnePage) {
      continue;
    }
    CAPTURE(table.name);
    for (std::size_t r = 0; r < std::min<std::size_t>(20, table.rows.size()); ++r) {
      std::vector<std::string> figures;
      for (std::size_t c = 0; c < table.heads.size(); ++c) {
        if (table.values[r][c]) figures.push_back(table.rows[r][c]);
      }
      if (figures.empty()) continue;
      CAPTURE(figures.front());
      const bool found = std::any_of(lines.begin(), lines.end(), [&](const auto& line) {
        auto at = line.begin();
        for (const std::string& figure : figures) {
          at = std::find(at, line.end(), figure);
          if (at == line.end()) return false;
          ++at;
        }
        return true;
      });
      CHECK(found);
    }
  }
}

}  // namespace

TEST_CASE("a figure reads the same in every form, for every reader") {
  for (const char* house : kSampleHouses) {
    for (const Reader reader : kReaders) {
      CAPTURE(house);
      CAPTURE(std::string(name_of(reader)));
      const Record record = sample_record(house, reader);
      const std::vector<Table> tables = tables_of(Json::parse(record_json(record)));
      CHECK(tables.size() >= 4);
      for (const Table& table : tables) {
        CAPTURE(table.name);
        for (std::size_t r = 0; r < table.rows.size(); ++r) {
          for (std::size_t c = 0; c < table.heads.size(); ++c) {
            if (table.values[r][c]) CHECK(is_rounded(*table.values[r][c], table.rows[r][c]));
          }
        }
      }
      hold_csv(tables, record_csv(record));
      hold_book(tables, record_xlsx(record));
      hold_page(tables, record_html(record));
      hold_markdown(tables, record_markdown(record));
      hold_text(tables, record_text(record));
    }
  }
}

TEST_CASE("the readers of forms can say no") {
  const Record record = sample_record("coopers-quay-apartment", Reader::Electrician);
  std::string csv = record_csv(record);
  const std::vector<Table> tables = tables_of(Json::parse(record_json(record)));
  const auto ranking = std::find_if(tables.begin(), tables.end(),
                                    [](const Table& table) { return table.name == "Ranking"; });
  REQUIRE(ranking != tables.end());
  CHECK_FALSE(is_rounded(*ranking->values[0][4] * 1.01, ranking->rows[0][4]));
  CHECK(csv_records("a,\"b \"\"c\"\", d\"\n1,2\n")[0] ==
        std::vector<std::string>{"a", "b \"c\", d"});
  CHECK(reference(6, 1) == "B7");
  CHECK(reference(0, 27) == "AB1");
}

TEST_CASE("the ranking of a record is the audit's") {
  for (const char* house : kSampleHouses) {
    CAPTURE(house);
    const Job& job = sample_job(house);
    const Record record = sample_record(house, Reader::Electrician, {"ranking"});
    const std::vector<Table> tables = tables_of(Json::parse(record_json(record)));
    REQUIRE(tables.size() == 1);
    REQUIRE(tables[0].rows.size() == job.audit.ranking.size());
    for (std::size_t r = 0; r < tables[0].rows.size(); ++r) {
      CHECK(tables[0].rows[r][1] ==
            job.house.loads[static_cast<std::size_t>(job.audit.ranking[r].load)].name);
      CHECK(*tables[0].values[r][4] == job.audit.ranking[r].volts.si());
    }
  }
}

}  // namespace evenleg
