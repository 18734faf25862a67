// The sample house of sample_audit.h without its iron, and its service neutral in depth, put
// together by hand.
//
// The service neutral has 0.1 ohm of its own, Rn with what is added. Its far end stands at n off
// the source's neutral: (120 - n)/10 - (120 + n)/240 = n/Rn, so
//   n = 11.5 / (0.1 + 1/240 + 1/Rn),  kettle 120 - n, lamp 120 + n.
// The lamp withstands 132 V: n = 12, 1/Rn = 11.5/12 - 0.1041667 = 0.8541667, Rn = 1.170732, added
// 1.070732; then 12/1.170732 = 10.25 A, 10.25 * 1.070732 = 10.975 V across, 112.49 W. The kettle
// alone sends 120/11.170732 = 10.742 A through it: 123.56 W. The kettle here stalls below 66 V:
// alone it has 120 * 10/(10 + Rn) = 66 at Rn = 8.181818, added 8.081818; it then sends 6.6 A:
// 352.04 W. With the lamp too: n = 11.5/0.2263889 = 50.798 V, 6.2086 A, 311.53 W.
#pragma once

#include "evenleg/audit/neutral.h"

namespace evenleg {

struct SampleNeutral {
  House house;
  Tables tables;
  NeutralDepth depth;
};

inline constexpr double kHighOhms = 1.0707317073170732;  // 48/41 - 0.1
inline constexpr double kLowOhms = 8.0818181818181818;   // 90/11 - 0.1

[[nodiscard]] SampleNeutral sample_neutral();

}  // namespace evenleg
