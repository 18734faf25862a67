#include <doctest/doctest.h>

#include "evenleg/balance/demand.h"

namespace evenleg {

// Source: NEC 2005 Annex D, D1(a) 77.5 -> 78 A, D2(c) 145.0 -> 145 A; D2(b) neutral 61.8 -> 62 A.
TEST_CASE("demand: a fraction below one half of an ampere is dropped") {
  CHECK(whole_amps(77.5) == 78);
  CHECK(whole_amps(34790.0 / 240) == 145);  // 144.96
  CHECK(whole_amps(14840.0 / 240) == 62);
  CHECK(whole_amps(15400.0 / 240) == 64);  // 64.17
  CHECK(whole_amps(0) == 0);
}

}  // namespace evenleg
