// Internal to house/wiring.h: the trees of boxes, and the loads on them.
#pragma once

#include "evenleg/house/wiring.h"

namespace evenleg {

// Requires: wiring.panels, circuit_panel and circuit_legs are filled.
// Fills cables, circuit_cable, outlet_cable, outlet_box.
void build_cables(const House& house, Wiring& wiring);

// Requires: build_cables. Fills loads.
void connect_loads(const House& house, Wiring& wiring);

}  // namespace evenleg
