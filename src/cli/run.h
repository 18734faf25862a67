// The program as a function: reads the command line, runs one command, turns every Error into its
// lines on standard error and its exit status (exit_status.h).
#pragma once

#include "evenleg/base/error.h"

namespace evenleg {

// The exit status. What it throws is no Error but a fault of this program, or want of memory.
[[nodiscard]] int run(int argc, const char* const* argv);

// The fault's line on standard error.
void complain(const Fault& fault);

}  // namespace evenleg
