#include "evenleg/tables/motor_starting.h"

#include <fmt/format.h>

#include <cmath>

#include "src/tables/readers.h"
#include "src/tables/references.h"

namespace evenleg {
namespace {

void read_code_letters(Row& root, MotorStarting& starting) {
  for (Row& row : root.rows("code_letter")) {
    CodeLetter letter;
    letter.letter = row.text("letter");
    letter.from = row.number("from", Allowed::NotNegative);
    letter.to = row.number_if("to", Allowed::Positive);
    if (letter.to && *letter.to <= letter.from) {
      row.refuse("to", "the range is empty", "write more than `from`");
    }
    if (find_code_letter(starting, letter.letter) != nullptr) {
      row.refuse("letter", fmt::format("two rows are for \"{}\"", letter.letter), "remove one");
    }
    row.end();
    starting.code_letters.push_back(std::move(letter));
  }
}

}  // namespace

const CodeLetter* find_code_letter(const MotorStarting& starting, std::string_view letter) {
  for (const CodeLetter& row : starting.code_letters) {
    if (row.letter == letter) return &row;
  }
  return nullptr;
}

void read_motor_starting(Row& root, Tables& tables) {
  MotorStarting& starting = tables.motor_starting;
  starting.code_letter_source = root.citation("source");
  const References references(root);
  read_code_letters(root, starting);
  Row locked = root.table("locked_rotor");
  const double resistance = locked.number("resistance_pu", Allowed::Positive);
  const double reactance = locked.number("reactance_pu", Allowed::NotNegative);
  if (resistance > 0) starting.power_factor = resistance / std::hypot(resistance, reactance);
  starting.power_factor_source = references.named_by(locked, "reference");
  locked.end();
  Row degraded = root.table("degraded_neutral");
  starting.degraded_ohms = degraded.number("added_ohms", Allowed::Positive);
  starting.degraded_source = references.named_by(degraded, "reference");
  degraded.end();
  root.end();
}

void read_flicker(Row& root, Tables& tables) {
  FlickerTables& flicker = tables.flicker;
  flicker.points_source = root.citation("source");
  const References references(root);
  for (Row& row : root.rows("point")) {
    const FlickerPoint point{row.number("changes_per_minute", Allowed::Positive),
                             row.number("percent_230", Allowed::Positive),
                             row.number("percent_120", Allowed::Positive)};
    if (!flicker.points.empty() &&
        point.changes_per_minute <= flicker.points.back().changes_per_minute) {
      row.refuse("changes_per_minute", "the points do not rise", "order them from few to many");
    }
    row.end();
    flicker.points.push_back(point);
  }
  Row limits = root.table("change_limits");
  flicker.change_limits_source = references.named_by(limits, "reference");
  flicker.change_limits_scope = limits.text("scope");
  for (Row& row : limits.rows("limit")) {
    flicker.change_limits.push_back(
        {row.number("percent", Allowed::Positive), row.text("applies")});
    row.end();
  }
  limits.end();
  root.end();
}

}  // namespace evenleg
