// The look of a record's page: on screens of any width, on paper, in black and white.
#pragma once

#include <string>

namespace evenleg {

[[nodiscard]] std::string page_style();

}  // namespace evenleg
