// One record of a house, for one reader, from what was worked out (job.h).
//
// What is in it, and in what order, follows from who reads it; --sections overrides. The safety
// block is not a section: where an open neutral would endanger something it stands first, whatever
// was asked for. Nothing in a record names a cause or says that anything is in order.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/record/document.h"
#include "evenleg/record/job.h"

namespace evenleg {

enum class Reader { Electrician, Inspector, Contractor, Client, Event };
// "electrician", "inspector", "contractor", "client", "event".
[[nodiscard]] std::string_view name_of(Reader reader);
[[nodiscard]] std::optional<Reader> reader_named(std::string_view name);

// Whether a text is a day of the calendar as a record takes it: 2026-03-15.
[[nodiscard]] bool is_day(const std::string& text);

// Where the record comes from, as its last section tells.
struct Provenance {
  std::string program;               // "evenleg 0.1.0"
  std::string date;                  // on which it is made, 2026-03-15
  std::string house_file;            // as it was named
  std::optional<unsigned> revision;  // of a house file; absent for a description
  std::string fingerprint;           // of the description's text
};

struct RecordOptions {
  Reader reader = Reader::Electrician;
  std::vector<std::string> sections;  // ids, in this order; empty: the reader's
  bool all_sheets = false;            // the sheets of the house, too: for spreadsheets
  std::optional<std::string> place;   // the neutral that is taken to have opened, for an event
  Provenance provenance;
};

struct SectionName {
  std::string_view id;
  std::string_view title;
};
// All that --sections takes.
[[nodiscard]] std::vector<SectionName> section_names();

// Throws: Error(Request) for a section that there is not.
void check_sections(const RecordOptions& options);

// Throws: Error(Request) for a section or a place that there is not.
[[nodiscard]] Record make_record(const Job& job, const RecordOptions& options);

// Eight hexadecimal digits of a text: the same text, the same digits. FNV-1a, 32 bit.
[[nodiscard]] std::string fingerprint(std::string_view text);

// Forms of a record. Each is whole and needs nothing from elsewhere.
[[nodiscard]] std::string record_text(const Record& record);
[[nodiscard]] std::string record_markdown(const Record& record);
[[nodiscard]] std::string record_csv(const Record& record);
[[nodiscard]] std::string record_json(const Record& record);

// `paper`: "" leaves the size to the browser; "letter" and "a4" are for a renderer of pages.
[[nodiscard]] std::string record_html(const Record& record, std::string_view paper = {});

// The bytes of a workbook. Throws: Error(File) when there is no memory or space for it.
[[nodiscard]] std::string record_xlsx(const Record& record);

}  // namespace evenleg
