// UTF-8 text, one code point at a time. Source: The Unicode Standard 15.0, section 3.9, table 3-7.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace evenleg {

struct CodePoint {
  std::uint32_t code = 0;
  std::size_t bytes = 0;  // 0: the text does not start with a well-formed sequence

  bool operator==(const CodePoint&) const = default;
};

// The code point that `text` starts with. Requires: `text` is not empty.
[[nodiscard]] CodePoint first_code_point(std::string_view text);

}  // namespace evenleg
