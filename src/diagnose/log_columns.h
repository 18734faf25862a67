// Which column of a log holds what, by its heading.
//
// A heading is taken without case, spaces and signs; a unit in brackets tells volts from amperes.
// To teach it another spelling, add it to the lists in log_columns.cc.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenleg {

enum class LogField { Time, Date, L1Volts, L2Volts, L1Amps, L2Amps, Ignored };

// Fields of one line, quotes taken off. `separator`: ',', ';' or '\t'.
void split_fields(std::string_view line, char separator, std::vector<std::string_view>& fields,
                  std::string& unquoted);

struct LogColumns {
  char separator = ',';
  std::vector<LogField> fields;     // of each column
  std::vector<std::string> unused;  // headings that were not understood

  [[nodiscard]] bool has(LogField field) const;
};

// The columns of a line that is a heading: one with volts of both legs and a time. Nothing where it
// is none.
[[nodiscard]] std::optional<LogColumns> columns_of_heading(std::string_view line);

// How near a line is to being a heading: the fields that it has.
[[nodiscard]] std::vector<LogField> fields_in(std::string_view line);

}  // namespace evenleg
