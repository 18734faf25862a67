// The cautions that every record carries, whatever its form: what the figures are worth, what
// people in the house do, and what those who work on it keep to.
//
// They state no cause and never that something is in order, and nothing in them asks an occupant to
// open a panel. Ours in wording; the practices behind them are named beside each in cautions.cc.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace evenleg {

struct CautionGroup {
  std::string title;
  std::vector<std::string> sentences;
};

// What a calculated record does and does not show. For the foot of every page and every object.
[[nodiscard]] std::string_view standing_caution();

// For the occupants first, then for the trade.
[[nodiscard]] const std::vector<CautionGroup>& caution_groups();

}  // namespace evenleg
