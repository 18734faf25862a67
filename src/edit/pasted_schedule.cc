#include "evenleg/edit/pasted_schedule.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "evenleg/base/format.h"
#include "src/edit/schedule_cells.h"

namespace evenleg {
namespace {

constexpr std::size_t kMostRows = 400;  // more than any panel has, twice

// What a heading's words say its column holds.
Column column_of(const std::string& heading) {
  const std::string word = plain_word(heading);
  const auto is = [&](std::initializer_list<std::string_view> words) {
    return std::find(words.begin(), words.end(), word) != words.end();
  };
  if (is({"ckt", "cct", "circuitno", "circuitnumber", "ckt#", "no", "#", "space", "pole#", "slot",
          "position", "way"})) {
    return Column::Space;
  }
  if (is({"description", "circuit", "name", "load", "served", "loadserved", "area", "room", "use",
          "circuitdescription", "label"})) {
    return Column::Name;
  }
  if (is({"breaker", "amps", "amp", "a", "trip", "size", "breakersize", "rating", "ocpd", "mcb",
          "breakera", "breakeramps"})) {
    return Column::Breaker;
  }
  if (is({"poles", "pole", "p"})) return Column::Poles;
  if (is({"wire", "conductor", "wiresize", "cable", "gauge", "awg"})) return Column::Conductor;
  if (is({"length", "lengthft", "ft", "feet", "run"})) return Column::Length;
  return Column::Other;
}

// The columns of a first row that names at least two of them; empty where it is no row of headings.
std::vector<Column> headings_in(const std::vector<std::string>& cells) {
  std::vector<Column> columns;
  int known = 0;
  for (const std::string& cell : cells) {
    columns.push_back(column_of(cell));
    if (columns.back() != Column::Other) ++known;
  }
  return known >= 2 ? columns : std::vector<Column>{};
}

// Where each half of a row begins: a schedule of two halves has two columns of spaces.
std::vector<std::size_t> halves_of(const std::vector<Column>& columns) {
  std::vector<std::size_t> starts;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i] == Column::Space) starts.push_back(i);
  }
  if (starts.size() != 2) return {0};
  // A right half is often written from its outer edge inwards: its space stands last.
  if (starts[1] + 1 == columns.size()) {
    for (std::size_t i = starts[0] + 1; i < columns.size(); ++i) {
      const auto begin = columns.begin();
      const auto at = static_cast<std::ptrdiff_t>(i);
      if (std::count(begin, begin + at, columns[i]) > 0) return {0, i};
    }
  }
  return {0, starts[1]};
}

void take_cell(const std::string& cell, Column column, const Vocabulary& vocabulary,
               ScheduleRow& row) {
  switch (column) {
    case Column::Space:
      take_space(cell, row);
      break;
    case Column::Name:
      if (row.name.empty()) row.name = cell;
      break;
    case Column::Breaker:
      take_breaker(cell, row);
      break;
    case Column::Poles:
      if (const auto poles = whole_in(cell)) row.poles = *poles;
      break;
    case Column::Conductor:
      if (!cell.empty()) row.conductor = conductor_in(cell, vocabulary).value_or(cell);
      break;
    case Column::Length:
      row.length_ft = number_in(cell);
      break;
    case Column::Other:
      break;
  }
}

// Without headings each cell says by its look what it is; the space comes first, and of further
// numbers one up to 3 are the poles, the next the breaker, one more the length.
void take_by_look(const std::vector<std::string>& cells, const Vocabulary& vocabulary,
                  ScheduleRow& row) {
  constexpr int kMostPoles = 3;
  for (const std::string& cell : cells) {
    if (cell.empty()) continue;
    const auto whole = whole_in(cell);
    // "12/2" is a cable and "20/2" a breaker: no conductor is called "20".
    const auto conductor = whole ? std::nullopt : conductor_in(cell, vocabulary);
    if (conductor) {
      row.conductor = conductor;
    } else if (!row.space) {
      take_space(cell, row);
      if (!row.space) row.name = cell;
    } else if (whole && *whole >= 1 && *whole <= kMostPoles) {
      row.poles = *whole;
    } else if (!row.breaker_a && take_breaker(cell, row)) {
      continue;
    } else if (whole && conductor_in(cell, vocabulary)) {
      row.fault = fmt::format(
          "{} could be a wire size or a length; write \"{} Cu\", or add headings", *whole, *whole);
    } else if (const auto number = number_in(cell)) {
      row.length_ft = number;
    } else if (cell.size() > row.name.size()) {
      row.name = cell;
    }
  }
}

bool is_spare(const std::string& name) {
  static const std::set<std::string> kSpare{"",      "spare", "space", "blank",
                                            "empty", "open",  "-",     "unused"};
  return kSpare.count(plain_word(name)) > 0;
}

void judge(const Vocabulary& vocabulary, ScheduleRow& row) {
  constexpr int kMostPoles = 3;
  if (!row.fault.empty()) return;
  if (!row.space) {
    row.fault = "no space is given";
  } else if (row.poles < 1 || row.poles > kMostPoles) {
    row.fault = fmt::format("{} poles are not 1, 2 or 3", row.poles);
  } else if (row.conductor && !vocabulary.knows_conductor(*row.conductor)) {
    row.fault = fmt::format("\"{}\" is not a known conductor", shortened(*row.conductor, 30));
  }
}

}  // namespace

std::vector<ScheduleRow> pasted_schedule(std::string_view text, const Vocabulary& vocabulary) {
  std::vector<ScheduleRow> rows;
  const std::vector<std::vector<std::string>> lines = cells_of(text);
  std::vector<Column> columns;
  for (std::size_t i = 0; i < lines.size() && rows.size() < kMostRows; ++i) {
    const std::vector<std::string>& cells = lines[i];
    if (columns.empty() && rows.empty()) {
      columns = headings_in(cells);
      if (!columns.empty()) continue;
    }
    const std::vector<std::size_t> starts =
        columns.empty() ? halves_by_look(cells) : halves_of(columns);
    for (std::size_t half = 0; half < starts.size(); ++half) {
      const std::size_t end = half + 1 < starts.size() ? starts[half + 1] : cells.size();
      ScheduleRow row;
      row.line = static_cast<int>(i + 1);
      if (columns.empty()) {
        take_by_look(part_of(cells, starts[half], end), vocabulary, row);
      } else {
        for (std::size_t c = starts[half]; c < std::min(end, columns.size()) && c < cells.size();
             ++c) {
          take_cell(cells[c], columns[c], vocabulary, row);
        }
      }
      if (is_spare(row.name)) continue;
      judge(vocabulary, row);
      rows.push_back(std::move(row));
    }
  }
  return rows;
}

void fit_into(const House& house, const std::string& panel, std::vector<ScheduleRow>& rows) {
  std::map<int, std::string> taken;
  const Panel* into = nullptr;
  for (const Panel& one : house.panels) {
    if (one.name == panel) into = &one;
    for (int space : one.at_spaces) {
      if (one.fed_from == panel) taken[space] = "the feeder of " + one.name;
    }
  }
  std::set<std::string> names;
  for (const Circuit& circuit : house.circuits) {
    names.insert(circuit.name);
    const std::string in =
        circuit.panel.value_or(house.panels.empty() ? "" : house.panels.front().name);
    if (in != panel || !circuit.space) continue;
    for (int pole = 0; pole < circuit.poles; ++pole)
      taken[*circuit.space + 2 * pole] = circuit.name;
  }
  for (ScheduleRow& row : rows) {
    if (!row.fault.empty()) continue;
    for (int pole = 0; pole < row.poles && row.fault.empty(); ++pole) {
      const int space = *row.space + 2 * pole;
      if (into != nullptr && (space < 1 || space > into->spaces)) {
        row.fault =
            fmt::format("space {} is beyond the {} spaces of {}", space, into->spaces, panel);
      } else if (const auto there = taken.find(space); there != taken.end()) {
        row.fault = fmt::format("space {} is taken by {}", space, there->second);
      }
    }
    if (!row.fault.empty()) continue;
    const std::string name = row.name;
    for (int n = 2; !names.insert(row.name).second; ++n) row.name = fmt::format("{} {}", name, n);
    for (int pole = 0; pole < row.poles; ++pole) taken[*row.space + 2 * pole] = row.name;
  }
}

std::vector<Edit> edits_of(const std::vector<ScheduleRow>& rows, const std::string& panel) {
  std::vector<Edit> edits;
  for (const ScheduleRow& row : rows) {
    if (!row.fault.empty()) continue;
    Edit edit{Verb::Add, "circuit", row.name, {}, {}};
    edit.given["panel"] = {panel};
    edit.given["space"] = {std::to_string(*row.space)};
    edit.given["poles"] = {std::to_string(row.poles)};
    if (row.breaker_a) edit.given["breaker_a"] = {exact(*row.breaker_a)};
    if (row.conductor) edit.given["conductor"] = {*row.conductor};
    if (row.length_ft) edit.given["length_ft"] = {exact(*row.length_ft)};
    edits.push_back(std::move(edit));
  }
  return edits;
}

}  // namespace evenleg
