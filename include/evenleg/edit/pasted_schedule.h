// A panel schedule as it is copied from a spreadsheet: rows of cells, parted by tabs, semicolons or
// commas, with or without headings.
//
// With headings ("Ckt", "Description", "Breaker", "Poles", "Wire", "Length") columns are taken by
// their words. Without, a first whole number is the space, a further one up to 3 the poles, the
// next the breaker and one more the length; "20A" is a breaker, a known conductor the conductor, the
// longest other text the name. A schedule of two halves, odd spaces left and even right, is told by two columns
// of spaces. Empty, "spare" and "space" rows are passed over. "20/2" and "20A 2P" are breaker and
// poles.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/edit/edit.h"
#include "evenleg/house/house.h"
#include "evenleg/house/vocabulary.h"

namespace evenleg {

struct ScheduleRow {
  int line = 0;  // of the text, from 1
  std::optional<int> space;
  std::string name;
  std::optional<double> breaker_a;
  int poles = 1;
  std::optional<std::string> conductor;
  std::optional<double> length_ft;
  std::string fault;  // why it cannot be entered; "" where it can
};

// Rows that name a circuit, in the text's order. Nothing is judged but the row itself.
[[nodiscard]] std::vector<ScheduleRow> pasted_schedule(std::string_view text,
                                                       const Vocabulary& vocabulary);

// Names made unique, spaces that are taken told as faults of their rows.
void fit_into(const House& house, const std::string& panel, std::vector<ScheduleRow>& rows);

// One circuit to add for each row without a fault.
[[nodiscard]] std::vector<Edit> edits_of(const std::vector<ScheduleRow>& rows,
                                         const std::string& panel);

}  // namespace evenleg
