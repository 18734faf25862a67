// A place in the text of a description: line and column, both from 1, columns in code points.
#pragma once

#include <compare>

namespace evenleg {

struct Place {
  unsigned line = 1;
  unsigned column = 1;

  auto operator<=>(const Place&) const = default;
};

}  // namespace evenleg
