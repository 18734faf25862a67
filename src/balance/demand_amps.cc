#include <cmath>

#include "evenleg/balance/demand.h"

namespace evenleg {

double whole_amps(double amps) {
  constexpr double kHalf = 0.5;
  constexpr double kNoise = 1e-9;  // 77.5 that arithmetic left a hair below counts as one half
  return std::floor(amps + kHalf + kNoise);
}

}  // namespace evenleg
