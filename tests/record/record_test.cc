// What a record must hold and must never say, whoever reads it and in whatever form.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>

#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "evenleg/report/cautions.h"
#include "src/record/fill.h"
#include "tests/record/forms.h"
#include "tests/record/sample_job.h"

namespace evenleg {
namespace {

// Small letters, spaces in place of everything that is no letter, one at each end.
std::string words_of(const std::string& text) {
  std::string words = " ";
  for (const char c : text) {
    const auto letter = static_cast<unsigned char>(c);
    const char next = std::isalpha(letter) ? static_cast<char>(std::tolower(letter)) : ' ';
    if (next != ' ' || words.back() != ' ') words += next;
  }
  return words + " ";
}

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  std::string single;
  for (const char c : text) {
    if (c != ' ' || single.empty() || single.back() != ' ') single += c;
  }
  return single;
}

std::string all_forms(const Record& record) {
  return record_text(record) + record_markdown(record) + record_csv(record) + record_json(record) +
         page_text(record_html(record));
}

}  // namespace

TEST_CASE("the safety block stands first in every form and no section list leaves it out") {
  for (const char* house : kSampleHouses) {
    for (const Reader reader : kReaders) {
      const Record record = sample_record(house, reader, {"about"});
      CAPTURE(house);
      CAPTURE(record.reader);
      REQUIRE(record.safety);
      const std::string& first = caution_groups()[0].sentences[2];  // the main, and its cover
      for (const std::string& form : {record_text(record), page_text(record_html(record))}) {
        const std::string text = one_line(form);
        const std::size_t block = text.find(first), about = text.find("About this record");
        CHECK(block != std::string::npos);
        CHECK(block < about);
      }
      CHECK(record_csv(record).find(first) < 4000);
      CHECK(record_json(record).find("\"safety\": {") < record_json(record).find("\"sections\""));
      const Book book = read_book(record_xlsx(record));
      const auto& opening = book.at("Read first");
      CHECK(std::any_of(opening.begin(), opening.end(),
                        [&](const auto& cell) { return cell.second.text == first; }));
    }
  }
}

TEST_CASE("nobody but a client is spared the cautions for those who work on it") {
  for (const Reader reader : kReaders) {
    const Record record = sample_record("fernhill-cottage", reader);
    CHECK(record.safety->groups.size() == (reader == Reader::Client ? 1 : 2));
  }
}

TEST_CASE("a house where nothing hangs on a shared neutral has no safety block, but its cautions") {
  const Tables tables = load_tables();
  House house;
  house.supply.system = "120/240 split-phase";
  Panel panel;
  panel.name = "Main";
  panel.spaces = 8;
  house.panels.push_back(panel);
  const Job job = work_out(house, tables, {});
  RecordOptions options;
  options.provenance.date = "2026-03-15";
  const Record record = make_record(job, options);
  CHECK_FALSE(record.safety);
  CHECK(one_line(record_text(record)).find(caution_groups()[0].sentences[0]) != std::string::npos);
}

TEST_CASE("an empty outlet past what a plain load withstands is a danger like any other") {
  // A heater of 9.6 ohms on L1 and an outlet with nothing described on L2: with the neutral open no
  // current flows, and the outlet shows the 240 V between the legs.
  const Tables tables = load_tables();
  const House house = read_description(
      "format = 1\nhouse = {name = \"Two\"}\nsupply = {system = \"120/240 split-phase\"}\n"
      "panel = [{name = \"Main\", spaces = 4}]\n"
      "circuit = [{name = \"A\", space = 1}, {name = \"B\", space = 3}]\n"
      "outlet = [{name = \"Empty\", on = \"B\"}]\n"
      "load = [{name = \"Heater\", at = \"A\", ohms = 9.6}]\n",
      "two.toml", vocabulary(tables));
  const Job job = work_out(house, tables, {});
  for (const Reader reader : kReaders) {
    RecordOptions options;
    options.reader = reader;
    options.provenance.date = "2026-03-15";
    const Record record = make_record(job, options);
    REQUIRE(record.safety);
    CHECK(one_line(record_text(record)).find("could get up to 240 V (\"Empty\")") !=
          std::string::npos);
  }
}

TEST_CASE("volts that were read outside the supply's limits are told first") {
  Job job = sample_job("coopers-quay-apartment");
  Reading reading;
  reading.at = job.house.panels.front().name;
  reading.l2_n_volts = 151;
  job.house.readings.push_back(reading);
  RecordOptions options;
  options.provenance.date = "2026-03-15";
  const Record record = make_record(job, options);
  REQUIRE(record.safety);
  CHECK(record.safety->title == "First: volts above the supply's limits were read");
  CHECK(std::any_of(record.safety->found.begin(), record.safety->found.end(),
                    [](const std::string& sentence) {
                      return sentence.find("L2 to neutral 151.0 V at") != std::string::npos;
                    }));
}

TEST_CASE("a record never says that anything is safe, nor names a cause") {
  for (const char* house : {"fernhill-cottage", "coopers-quay-apartment", "amselgrund"}) {
    for (const Reader reader : kReaders) {
      const std::string words = words_of(all_forms(sample_record(house, reader)));
      for (const char* phrase :
           {" safe ", " safely ", " caused by ", " the cause is ", " is to blame ", " fault of ",
            " your fault ", " guarantee ", " no danger "}) {
        CAPTURE(house);
        CAPTURE(phrase);
        CHECK(words.find(phrase) == std::string::npos);
      }
    }
  }
}

TEST_CASE("after an event the record says what could have been, never what was") {
  for (const char* house : kSampleHouses) {
    Record record = sample_record(house, Reader::Event, {"exposed", "to-test", "claim"});
    record.safety.reset();  // "if its handle can be reached" is of the main
    const std::string words = words_of(record_text(record));
    CHECK(words.find(" could have ") != std::string::npos);
    CHECK(words.find(" reached ") == std::string::npos);
  }
}

TEST_CASE("the range after an event reaches to the bound where the extreme is not proven") {
  Job job = sample_job("coopers-quay-apartment");
  LoadExtremes& row = job.audit.open_neutral.front().loads.front();
  row.highest->value = volts(150);
  row.highest->bound = volts(171);
  row.highest->proven = false;
  RecordOptions options;
  options.reader = Reader::Event;
  options.sections = {"exposed"};
  const std::string csv = record_csv(make_record(job, options));
  const std::string& name = job.house.loads[static_cast<std::size_t>(row.load)].name;
  const Rows rows = csv_records(csv);
  const auto found = std::find_if(
      rows.begin(), rows.end(), [&](const auto& one) { return one.size() > 3 && one[0] == name; });
  REQUIRE(found != rows.end());
  CHECK((*found)[3] == "171");
}

TEST_CASE("every limit in the appendix has a source, and every mark leads to one") {
  for (const char* house : {"fernhill-cottage", "coopers-quay-apartment", "amselgrund"}) {
    for (const Reader reader : {Reader::Electrician, Reader::Inspector, Reader::Contractor}) {
      const std::string text = one_line(record_text(sample_record(house, reader)));
      for (int mark = 1; text.find("[" + std::to_string(mark) + "]") != std::string::npos; ++mark) {
        const std::size_t sources = text.find("Sources -------");
        REQUIRE(sources != std::string::npos);
        CHECK(text.find("[" + std::to_string(mark) + "] ", sources) != std::string::npos);
      }
      const Record limits = sample_record(house, reader, {"limits"});
      for (const Block& block : limits.sections.front().blocks) {
        const auto* sheet = std::get_if<Sheet>(&block);
        if (sheet == nullptr) continue;
        for (const auto& row : sheet->rows) CHECK_FALSE(row.back().text.empty());
      }
    }
  }
}

TEST_CASE("the foot names program, house file, revision, fingerprint and date") {
  const std::string text = one_line(record_text(sample_record("amselgrund", Reader::Client)));
  CHECK(
      text.find("Made on 2026-03-15 by evenleg test from amselgrund.toml, revision 7; fingerprint "
                "of the description 0123abcd.") != std::string::npos);
  // FNV-1a of 32 bits: the published test vectors for "" and "a".
  // Source: draft-eastlake-fnv-17, appendix C (from memory).
  CHECK(fingerprint("") == "811c9dc5");
  CHECK(fingerprint("a") == "e40c292c");
}

TEST_CASE("a client's report has two pictures and no word of the trade's") {
  for (const char* house : {"fernhill-cottage", "coopers-quay-apartment", "amselgrund"}) {
    RecordOptions options;
    options.reader = Reader::Client;
    options.provenance.date = "2026-03-15";
    Job job = sample_job(house);
    job.house.findings.clear();  // a person's own words may be of any kind
    job.house.visit.clear();
    const Record record = make_record(job, options);
    int pictures = 0;
    for (const Section& section : record.sections) {
      for (const Block& block : section.blocks) pictures += std::holds_alternative<Drawing>(block);
    }
    CHECK(pictures == 2);
    const std::string words = words_of(record_text(record));
    for (const char* word : {" multiwire ", " impedance ", " feeder ", " ohms ", " mwbc ",
                             " bonded ", " phasor ", " credible ", " ampacity "}) {
      CAPTURE(house);
      CAPTURE(word);
      // The standing caution at the foot names impedances; all else stands before it.
      CHECK(words.find(word) >= words.find(" these figures are calculated "));
    }
  }
}

TEST_CASE("an unknown section or place is refused with the names that there are") {
  RecordOptions options;
  options.sections = {"rankin"};
  CHECK_THROWS_WITH_AS((void)make_record(sample_job("amselgrund"), options),
                       "--sections: there is no section \"rankin\"; perhaps \"ranking\"", Error);
  options.sections = {"exposed"};
  options.place = "nowhere";
  CHECK_THROWS_AS((void)make_record(sample_job("amselgrund"), options), Error);
}

TEST_CASE("the plan that is shown is the first that leaves little to gain") {
  Balance balance;
  CHECK(plan_to_show(balance) == -1);
  balance.spread_amps = 40;
  for (const double spread : {22.0, 9.0, 5.5, 5.0}) {
    BalancePlan plan;
    plan.spread_amps = spread;
    balance.plans.push_back(plan);
  }
  CHECK(plan_to_show(balance) == 1);  // 9 A is within a tenth of 40 A of the best, 5 A
  balance.spread_amps = 10;
  CHECK(plan_to_show(balance) == 2);  // and within 1 A: 5.5 A
}

TEST_CASE("the patterns that speak for a neutral are patterns of the tables") {
  const Job job = sample_job("fernhill-cottage");
  for (const std::string_view name : kNeutralPatterns) {
    CAPTURE(name);
    CHECK(std::any_of(job.tables.symptoms.patterns.begin(), job.tables.symptoms.patterns.end(),
                      [&](const SymptomPattern& one) { return one.name == name; }));
  }
}

}  // namespace evenleg
