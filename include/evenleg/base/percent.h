// A share as people write it.
#pragma once

namespace evenleg {

inline constexpr double kPercent = 100;  // of a share of 1

}  // namespace evenleg
