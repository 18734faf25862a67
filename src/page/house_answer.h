// The house as the page has it: every entry with its keys, the panels' faces, what is missing.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "src/page/open_house.h"

namespace evenleg {

[[nodiscard]] nlohmann::ordered_json house_answer(const Moment& moment, const OpenHouse& open,
                                                  const std::string& program);

// The faces of all panels, as far as their legs are known; also of a house that is unfinished.
[[nodiscard]] nlohmann::ordered_json faces_json(const House& house, const Vocabulary& words);

// What can be entered and how: keys, load kinds, conductors, systems, and the cautions.
[[nodiscard]] nlohmann::ordered_json words_answer(const OpenHouse& open);

}  // namespace evenleg
