// A small house and its audit, put together by hand, for the tests of the reports.
//
// 120/240 V, ideal source and wiring. Kettle 1440 W (10 ohm) and Iron 1200 W (12 ohm) on L1, where
// a 20 A breaker lets only one of them run; Reading lamp 60 W (240 ohm) on L2. As found the iron is
// off. With the neutral open the kettle and the lamp are in series on 240 V: lamp 240 * 240 / 250 =
// 230.4 V, kettle 240 * 10 / 250 = 9.6 V, the neutral 120 - 9.6 = 110.4 V off. The iron with the
// lamp gets 240 * 12 / 252 = 11.4286 V. A load alone has no way back and gets 0 V; then the empty
// outlet on the other leg shows 240 V. Sound: 12.0 A and 0.5 A on the legs, 11.5 A in the
// neutral, 12.0 A in it with the kettle alone.
#pragma once

#include "evenleg/audit/audit.h"

namespace evenleg {

struct SampleAudit {
  House house;
  Tables tables;
  Audit audit;
};

// Loads by index.
inline constexpr int kKettle = 0;
inline constexpr int kLamp = 1;
inline constexpr int kIron = 2;

[[nodiscard]] SampleAudit sample_audit();

}  // namespace evenleg
