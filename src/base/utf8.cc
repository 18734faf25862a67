#include "evenleg/base/utf8.h"

#include <array>

namespace evenleg {
namespace {

// Bytes of the sequence that starts with `first`; 0 where none does.
std::size_t length_after(std::uint32_t first) {
  if (first < 0x80) return 1;
  if (first < 0xC2) return 0;
  if (first < 0xE0) return 2;
  if (first < 0xF0) return 3;
  return first < 0xF5 ? 4 : 0;
}

bool is_well_formed(std::uint32_t code, std::size_t length) {
  const bool overlong = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code < 0xE000;
  return !overlong && !surrogate && code <= 0x10FFFF;
}

}  // namespace

CodePoint first_code_point(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(text[i] & 0xFF); };
  const std::size_t length = length_after(byte(0));
  if (length == 0 || length > text.size()) return {};
  constexpr std::array<std::uint32_t, 5> kFirstBits{0, 0x7F, 0x1F, 0x0F, 0x07};
  std::uint32_t code = byte(0) & kFirstBits[length];
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {};
    code = code << 6U | (byte(i) & 0x3F);
  }
  return is_well_formed(code, length) ? CodePoint{code, length} : CodePoint{};
}

}  // namespace evenleg
