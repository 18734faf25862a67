// A table in plain text that keeps every word: what is too wide for its column goes on in the next
// line. Figures stand to the right. At most 100 columns wide.
#pragma once

#include <string>
#include <vector>

#include "evenleg/record/document.h"

namespace evenleg {

// Lines of at most `width` columns; a word that is longer is cut into pieces.
[[nodiscard]] std::vector<std::string> lines_within(const std::string& text, int width);
[[nodiscard]] int longest_word(const std::string& text);

// The columns `chosen`, the first `rows` rows. Lines are indented by two.
[[nodiscard]] std::string text_sheet(const Sheet& sheet, const std::vector<std::size_t>& chosen,
                                     std::size_t rows);

}  // namespace evenleg
