// The manual page evenleg(1), in groff's man macros.
//
// Every letter that troff could take for something else is written by its name: a hyphen as \-, so
// that a copied option is the option, quotes as \(aq and \(dq, and what is not ASCII by its number,
// so that the page reads the same whatever the encoding is taken for.
#pragma once

#include <string>
#include <string_view>

#include "src/cli/command_tree.h"

namespace evenleg {

[[nodiscard]] std::string man_page(const CommandEntry& program);

// One line of text as troff is to print it.
[[nodiscard]] std::string troff_text(std::string_view line);

}  // namespace evenleg
