#include "evenleg/base/utf8.h"

#include <doctest/doctest.h>

#include <string_view>

using namespace evenleg;

// Source: The Unicode Standard 15.0, section 3.9: table 3-6 (bit distribution) by its example row
// of code points U+004D, U+0430, U+4E8C, U+10302 (table 3-4), and the limits of table 3-7. From
// memory.
TEST_CASE("utf8: well-formed sequences") {
  struct Row {
    std::string_view text;
    CodePoint printed;
  };
  const Row rows[] = {
      {"\x4D", {0x4D, 1}},
      {"\xD0\xB0", {0x430, 2}},
      {"\xE4\xBA\x8C", {0x4E8C, 3}},
      {"\xF0\x90\x8C\x82", {0x10302, 4}},
      {"\xF4\x8F\xBF\xBF", {0x10FFFF, 4}},
      {"\xED\x9F\xBF", {0xD7FF, 3}},
      {"\xC2\x80more", {0x80, 2}},
  };
  for (const Row& row : rows) {
    CAPTURE(row.printed.code);
    CHECK(first_code_point(row.text) == row.printed);
  }
}

TEST_CASE("utf8: ill-formed sequences have no bytes") {
  const std::string_view rows[] = {
      "\x80",              // a continuation byte by itself
      "\xC0\xAF",          // overlong
      "\xE0\x9F\xBF",      // overlong
      "\xF0\x8F\xBF\xBF",  // overlong
      "\xED\xA0\x80",      // surrogate U+D800
      "\xF4\x90\x80\x80",  // U+110000
      "\xF5\x80\x80\x80",
      "\xFF",
      "\xE2\x82",  // cut short
      "\xC3\x28",  // no continuation
  };
  for (const std::string_view row : rows) CHECK(first_code_point(row).bytes == 0);
}
