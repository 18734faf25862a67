#include "src/cli/readings_table.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/base/text_table.h"
#include "evenleg/record/document.h"

namespace evenleg {
namespace {

struct Shown {
  const char* heading;
  std::optional<double> Reading::*member;
};

// Tables that each fit the page: what nearly every reading has, then what some have.
const std::vector<std::vector<Shown>> kTables{{{"L1-N V", &Reading::l1_n_volts},
                                               {"L2-N V", &Reading::l2_n_volts},
                                               {"L3-N V", &Reading::l3_n_volts},
                                               {"L1-L2 V", &Reading::l1_l2_volts},
                                               {"L1 A", &Reading::l1_amps},
                                               {"L2 A", &Reading::l2_amps},
                                               {"L3 A", &Reading::l3_amps},
                                               {"N A", &Reading::neutral_amps}},
                                              {{"L2-L3 V", &Reading::l2_l3_volts},
                                               {"L3-L1 V", &Reading::l3_l1_volts},
                                               {"N-G V", &Reading::neutral_ground_volts},
                                               {"L1-G V", &Reading::l1_ground_volts},
                                               {"L2-G V", &Reading::l2_ground_volts},
                                               {"L3-G V", &Reading::l3_ground_volts}},
                                              {{"Joint V", &Reading::joint_volts},
                                               {"Electrode A", &Reading::electrode_amps},
                                               {"Water A", &Reading::water_pipe_amps},
                                               {"Together A", &Reading::together_amps}}};

constexpr int kNameColumns = 18;
constexpr int kLabelColumns = 24;

std::string state_of(const Reading& reading) {
  if (reading.label) return *reading.label;
  if (reading.main_off) return "main off";
  if (reading.on.empty()) return "";
  return "on: " + listed(reading.on);
}

bool holds(const Reading& reading, const std::vector<Shown>& columns) {
  return std::any_of(columns.begin(), columns.end(),
                     [&](const Shown& one) { return (reading.*one.member).has_value(); });
}

bool holds_nothing(const Reading& reading) {
  return std::none_of(kTables.begin(), kTables.end(),
                      [&](const auto& columns) { return holds(reading, columns); });
}

// Only the columns that some reading fills, and only the readings that fill one.
std::string table_of(const House& house, const std::vector<Shown>& all) {
  std::vector<Shown> used;
  for (const Shown& one : all) {
    const bool any =
        std::any_of(house.readings.begin(), house.readings.end(),
                    [&](const Reading& reading) { return (reading.*one.member).has_value(); });
    if (any) used.push_back(one);
  }
  if (used.empty()) return "";
  std::vector<Column> columns{{"#", Align::Right}, {"At", Align::Left}, {"State", Align::Left}};
  for (const Shown& one : used) columns.push_back({one.heading, Align::Right});
  TextTable table(columns);
  for (std::size_t r = 0; r < house.readings.size(); ++r) {
    const Reading& reading = house.readings[r];
    if (!holds(reading, used)) continue;
    std::vector<std::string> cells{std::to_string(r + 1), shortened(reading.at, kNameColumns),
                                   shortened(state_of(reading), kLabelColumns)};
    for (const Shown& one : used) {
      const auto& value = reading.*one.member;
      cells.push_back(value ? as_read(value).text : "-");
    }
    table.add(cells);
  }
  return table.text() + "\n";
}

// Readings that the tables leave out, so that none is missed.
std::string without_values(const House& house) {
  TextTable table({{"#", Align::Right}, {"At", Align::Left}, {"No value; state", Align::Left}});
  for (std::size_t r = 0; r < house.readings.size(); ++r) {
    const Reading& reading = house.readings[r];
    if (holds_nothing(reading)) {
      table.add({std::to_string(r + 1), shortened(reading.at, kNameColumns), state_of(reading)});
    }
  }
  return table.empty() ? "" : table.text() + "\n";
}

}  // namespace

std::string readings_table(const House& house) {
  std::string text;
  for (const std::vector<Shown>& columns : kTables) text += table_of(house, columns);
  text += without_values(house);
  if (!text.empty()) text.pop_back();  // the empty line after the last
  return text;
}

}  // namespace evenleg
