// The face of a panel: its spaces as they sit, the leg of each row, what is in each space, the
// circuits of a multiwire joined by a line.
#pragma once

#include "evenleg/drawing/drawing.h"
#include "evenleg/house/house.h"
#include "evenleg/house/wiring.h"

namespace evenleg {

struct FaceOptions {
  std::string name = "panel-face";  // of the drawing
  std::string when;                 // "after plan 2": joins the title; "" for as it is
  const House* before = nullptr;    // seats that differ from this house's are framed
};

// Requires: wiring of that house; `before` has the same panels and spaces.
[[nodiscard]] Drawing draw_panel_face(const House& house, const Wiring& wiring, int panel,
                                      const FaceOptions& options = {});

}  // namespace evenleg
