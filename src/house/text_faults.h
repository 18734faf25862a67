// What can be wrong with a text whatever its key: empty, too long, not UTF-8, control characters.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace evenleg {

// Judgement: a name longer than a line, or a text longer than a page, is a slip.
inline constexpr double kMostNameCharacters = 200;

// The sentence, or nothing. A text that may be longer than a name may also hold line ends.
[[nodiscard]] std::optional<std::string> text_fault(std::string_view key, std::string_view text,
                                                    double most_characters);

// A date or a date and time as TOML has it: 2026-03-14, 2026-03-14T10:20:00, with an optional
// fraction of a second and offset. Only one of several ways to write the same time is taken (T and
// Z in capitals, no offset of 00:00, no closing zeros in the fraction), so that it can be read and
// written unchanged.
[[nodiscard]] bool is_time(std::string_view text);

}  // namespace evenleg
