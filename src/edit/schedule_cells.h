// Internal to pasted_schedule.h: cells of a pasted text and what one cell can say.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evenleg/edit/pasted_schedule.h"

namespace evenleg {

enum class Column { Other, Space, Name, Breaker, Poles, Conductor, Length };

// Tabs part cells where there is one in the text, else semicolons, else commas. Quotes around a
// cell are taken off, spaces too. Line ends of any system.
[[nodiscard]] std::vector<std::vector<std::string>> cells_of(std::string_view text);
[[nodiscard]] std::vector<std::string> part_of(const std::vector<std::string>& cells,
                                               std::size_t from, std::size_t to);
// Where the halves of a row without headings begin: a second whole number that is the space across.
[[nodiscard]] std::vector<std::size_t> halves_by_look(const std::vector<std::string>& cells);

// Letters, digits and "#" only, in small letters.
[[nodiscard]] std::string plain_word(std::string_view text);
// The whole cell as a number.
[[nodiscard]] std::optional<int> whole_in(std::string_view cell);
[[nodiscard]] std::optional<double> number_in(std::string_view cell);
// "20", "20A", "20 A", "20/2", "20A 2P", "2P20": a breaker, perhaps with its poles. False: it is
// none.
bool take_breaker(const std::string& cell, ScheduleRow& row);
// "7", or "1,3", "1-3": the first space of a circuit of so many poles. Else the row is as it was.
void take_space(const std::string& cell, ScheduleRow& row);
// "12", "#12 Cu", "12/2": a conductor that is known, copper where no metal is named.
[[nodiscard]] std::optional<std::string> conductor_in(const std::string& cell,
                                                      const Vocabulary& vocabulary);

}  // namespace evenleg
