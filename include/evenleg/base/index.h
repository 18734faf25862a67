// An index of this program as a container takes it.
#pragma once

#include <cstddef>

namespace evenleg {

// Indices here are ints, so that -1 can stand for none; a container's are unsigned.
// Requires: index >= 0.
[[nodiscard]] constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

}  // namespace evenleg
