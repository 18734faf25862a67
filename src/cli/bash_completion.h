// Completion for bash: commands, options, words of a fixed choice, files and folders. It needs
// nothing but bash itself.
#pragma once

#include <string>

#include "src/cli/command_tree.h"

namespace evenleg {

[[nodiscard]] std::string bash_completion(const CommandEntry& program);

}  // namespace evenleg
