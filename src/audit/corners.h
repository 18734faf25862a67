// The states of a cable that can be best for a cost that is concave in its one feature: the corners
// of the convex hull of their points in the complex plane, apart for each set of groups.
#pragma once

#include <vector>

#include "src/audit/element.h"

namespace evenleg {

// Of `states`. Requires: one edge.
[[nodiscard]] std::vector<int> corner_states(const Element& element,
                                             const std::vector<int>& states);

}  // namespace evenleg
