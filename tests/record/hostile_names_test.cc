// Names that a careless form would run, break on or lose: shown as text everywhere.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "evenleg/base/format.h"
#include "tests/record/forms.h"
#include "tests/record/sample_job.h"

namespace evenleg {
namespace {

constexpr const char* kHouse = "hostile-names";

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a page holds no markup of a name") {
  for (const Reader reader : kReaders) {
    const std::string html = record_html(sample_record(kHouse, reader));
    for (const char* markup : {"<script", "<b>Main", "<img", "<h1>attic", "<i>nothing", "<u>lights",
                               "<svg onload", "</title><"}) {
      CAPTURE(markup);
      CHECK_FALSE(contains(html, markup));
    }
    // As text they are there.
    CHECK(contains(page_text(html), "</title><script>alert(0)</script>"));
    // No name steps out of an attribute: every tag has an even number of quotes.
    for (std::size_t at = html.find('<', html.find("<body")); at != std::string::npos;) {
      const std::size_t end = html.find('>', at);
      CHECK(std::count(html.begin() + static_cast<std::ptrdiff_t>(at),
                       html.begin() + static_cast<std::ptrdiff_t>(end), '"') %
                2 ==
            0);
      at = html.find('<', end);
    }
    // What turns the direction of text about it is taken out, what is written from the right set
    // apart.
    CHECK_FALSE(contains(html, "\xE2\x80\xAE"));
  }
  CHECK(contains(record_html(sample_record(kHouse, Reader::Electrician)), "\xE2\x81\xA8מטבח"));
}

TEST_CASE("no cell of a table for spreadsheets is a formula") {
  for (const Reader reader : kReaders) {
    const Record record = sample_record(kHouse, reader);
    for (const auto& row : csv_records(record_csv(record))) {
      for (const std::string& cell : row) {
        if (cell.empty() || cell.find_first_not_of("-0123456789.") == std::string::npos) continue;
        CAPTURE(cell);
        CHECK(std::string("=+-@").find(cell[0]) == std::string::npos);
      }
    }
    CHECK_FALSE(holds_formula(record_xlsx(record)));
  }
  const Book book = read_book(record_xlsx(sample_record(kHouse, Reader::Contractor)));
  const auto& schedule = book.at("Schedule");
  CHECK(std::any_of(schedule.begin(), schedule.end(),
                    [](const auto& cell) { return cell.second.text == "=1+1"; }));
}

TEST_CASE("JSON gives every name back as it was described") {
  const Record record = sample_record(kHouse, Reader::Electrician, {"loads"});
  const auto json = nlohmann::json::parse(record_json(record));
  std::vector<std::string> loads;
  for (const auto& block : json["sections"][0]["blocks"]) {
    if (!block.contains("table")) continue;
    for (const auto& row : block["rows"]) loads.push_back(row[0]);
  }
  const House& house = sample_job(kHouse).house;
  REQUIRE(loads.size() == house.loads.size());
  for (std::size_t l = 0; l < loads.size(); ++l) CHECK(loads[l] == house.loads[l].name);
}

TEST_CASE("Markdown and text show names as text") {
  for (const Reader reader : kReaders) {
    const Record record = sample_record(kHouse, reader);
    const std::string markdown = record_markdown(record);
    CHECK_FALSE(contains(markdown, "<script"));
    for (std::size_t at = markdown.find("](http"); at != std::string::npos;
         at = markdown.find("](http", at + 1)) {
      CHECK(markdown[at - 1] == '\\');  // the bracket is escaped: no link
    }
    CHECK_FALSE(contains(markdown, " <b>"));
    std::istringstream lines(record_text(record));
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      CHECK(columns(line) <= 100);
    }
  }
}

TEST_CASE("drawings keep long names on their sheet and all of them as text") {
  for (const Section& section : sample_record(kHouse, Reader::Electrician).sections) {
    for (const Block& block : section.blocks) {
      const auto* drawing = std::get_if<Drawing>(&block);
      if (drawing == nullptr) continue;
      CAPTURE(drawing->name);
      CHECK_FALSE(contains(drawing->svg, "<script"));
      CHECK_FALSE(contains(drawing->svg, "<b>"));
      CHECK(contains(drawing->svg, "role=\"img\""));
    }
  }
}

}  // namespace evenleg
