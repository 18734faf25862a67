// What a fuzz target asks of each input.
#pragma once

#include <unistd.h>

#include <cstdio>
#include <cstdlib>

namespace evenleg::fuzz {

// Ends the run, which keeps the input, where the property does not hold.
inline void holds(bool property, const char* what) {
  if (property) return;
  ::dprintf(STDERR_FILENO, "does not hold: %s\n", what);
  std::abort();
}

}  // namespace evenleg::fuzz
