// What is wrong with a command line, in the words of this program, as one fault.
#pragma once

#include <CLI/CLI.hpp>

#include "evenleg/base/error.h"

namespace evenleg {

// Requires: `app` has just thrown `error` while parsing.
[[nodiscard]] Fault usage_fault(const CLI::App& app, const CLI::ParseError& error);

}  // namespace evenleg
