// The look of a record's page: on screens of any width, on paper, in black and white.
#pragma once

#include <string_view>

namespace evenleg {

[[nodiscard]] std::string_view page_style();

}  // namespace evenleg
