// Internal to house/validate.h: the conductors that reach a load's place, and its connection to
// them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/house/judge.h"

namespace evenleg {

struct Reach {
  struct Conductor {
    int circuit = 0;
    std::string leg;
  };
  std::vector<Conductor> hots;
  bool shared = false;  // an outlet on a multiwire: every hot of it is there
  bool known = true;    // false where another fault leaves the conductors open
};

// Judges `connect` of load `l`, `circuit` being the one that it names.
// Requires: reach.known.
void judge_connection(Judge& judge, std::size_t l, const Reach& reach, std::optional<int> circuit);

}  // namespace evenleg
