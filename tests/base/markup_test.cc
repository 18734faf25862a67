#include "evenleg/base/markup.h"

#include <doctest/doctest.h>

namespace evenleg {

TEST_CASE("markup: signs of markup become entities") {
  CHECK(escaped_markup("a < b & \"c\" > 'd'") == "a &lt; b &amp; &quot;c&quot; &gt; &#39;d&#39;");
}

TEST_CASE("markup: control characters and directional formatting are taken out") {
  CHECK(plain_text("one\ntwo\tthree") == "one two three");
  CHECK(plain_text("a\x01"
                   "b\x7F"
                   "c") == "abc");
  CHECK(plain_text("left \xE2\x80\xAEright\xE2\x80\xAC end") ==
        "left right end");  // U+202E, U+202C
  CHECK(plain_text("a\xE2\x80\xA8"
                   "b") == "a b");  // U+2028
  CHECK(plain_text("bad \xFF byte") == "bad \xEF\xBF\xBD byte");
  CHECK(plain_text("\xEF\xBB\xBF"
                   "mark")
            .size() == 4);  // U+FEFF
}

TEST_CASE("markup: letters from right to left are isolated, with the spaces between them") {
  CHECK(escaped_markup("at מטבח אחד 12") ==
        "at \xE2\x81\xA8מטבח אחד \xE2\x81\xA9"
        "12");
  CHECK(escaped_markup("مطبخ") == "\xE2\x81\xA8مطبخ\xE2\x81\xA9");
  CHECK(escaped_markup("Küche 台所") == "Küche 台所");
}

}  // namespace evenleg
