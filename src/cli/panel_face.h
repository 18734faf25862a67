// A panel's face (house/panel_face.h) as text.
#pragma once

#include <string>

#include "evenleg/house/panel_face.h"

namespace evenleg {

// At most 100 columns wide.
[[nodiscard]] std::string text_of(const PanelFace& face, const House& house, const Wiring& wiring);

}  // namespace evenleg
