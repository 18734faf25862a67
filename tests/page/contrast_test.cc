// The page's colours, light and dark, against WCAG 2.1: text 4.5 to 1 (1.4.3), shapes that carry
// meaning 3 to 1 (1.4.11), by its formula of relative luminance. Colours elsewhere than in
// style.css are not allowed, so that these are all there are.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <string_view>

#include "src/page/web_files.h"

namespace evenleg {
namespace {

using Colours = std::map<std::string, std::string>;  // "ink": "161616"

// "--name: #rgb" or "#rrggbb" in one block of declarations.
Colours colours_in(const std::string& block) {
  Colours colours;
  for (std::size_t at = block.find("--"); at != std::string::npos; at = block.find("--", at + 2)) {
    const std::size_t colon = block.find(':', at);
    const std::size_t end = block.find(';', at);
    if (colon == std::string::npos || end == std::string::npos || colon > end) continue;
    const std::size_t hash = block.find('#', colon);
    if (hash == std::string::npos || hash > end) continue;
    std::string digits = block.substr(hash + 1, end - hash - 1);
    if (digits.size() == 3) {
      digits = {digits[0], digits[0], digits[1], digits[1], digits[2], digits[2]};
    }
    colours[block.substr(at + 2, colon - at - 2)] = digits;
  }
  return colours;
}

// WCAG 2.1, "relative luminance".
double luminance(const std::string& digits) {
  const double weights[] = {0.2126, 0.7152, 0.0722};
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const double part = std::stoi(digits.substr(2 * i, 2), nullptr, 16) / 255.0;
    sum += weights[i] * (part <= 0.03928 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4));
  }
  return sum;
}

double contrast(const Colours& colours, const std::string& a, const std::string& b) {
  const double one = luminance(colours.at(a));
  const double other = luminance(colours.at(b));
  return (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05);
}

std::string block_after(const std::string& text, std::size_t from) {
  const std::size_t open = text.find('{', text.find(":root", from));
  return text.substr(open, text.find('}', open) - open);
}

// By hand from the formula: black on white is 21 to 1, and #777 on white 4.48.
TEST_CASE("the formula") {
  const Colours colours{{"black", "000000"}, {"white", "ffffff"}, {"grey", "777777"}};
  CHECK(contrast(colours, "black", "white") == doctest::Approx(21));
  CHECK(contrast(colours, "grey", "white") == doctest::Approx(4.48).epsilon(0.002));
}

TEST_CASE("light and dark keep the contrast of WCAG 2.1 AA") {
  const std::string text(web_file("style.css")->text);
  const std::size_t dark = text.find("prefers-color-scheme: dark");
  REQUIRE(dark != std::string::npos);
  const Colours light = colours_in(block_after(text, 0));
  for (const Colours& colours : {light, colours_in(block_after(text, dark))}) {
    REQUIRE(colours.size() >= light.size() - 1);
    for (const std::string ground : {"paper", "plate", "sunk", "warn-plate"}) {
      CAPTURE(ground);
      for (const std::string ink : {"ink", "soft", "act", "warn", "measured"}) {
        CAPTURE(ink);
        CHECK(contrast(colours, ink, ground) >= 4.5);
      }
      for (const std::string shape : {"line", "leg-1", "leg-2", "leg-3"}) {
        CAPTURE(shape);
        CHECK(contrast(colours, shape, ground) >= 3.0);
      }
    }
    CHECK(contrast(colours, "on-act", "act") >= 4.5);
    CHECK(contrast(colours, "on-warn", "warn") >= 4.5);
  }
}

TEST_CASE("no other style sheet has a colour of its own, and no file refers elsewhere") {
  for (const WebFile& file : web_files()) {
    CAPTURE(file.name);
    const std::string text(file.text);
    if (file.name.ends_with(".css") && file.name != "style.css") {
      for (const std::string_view colour :
           {"rgb(", "hsl(", ": #", " #f", " #0", "white;", "black;", " red;"}) {
        CAPTURE(colour);
        CHECK(text.find(colour) == std::string::npos);
      }
    }
    for (const std::string_view outside : {"https://", "url(", "@import", "innerHTML", "eval("}) {
      CAPTURE(outside);
      CHECK(text.find(outside) == std::string::npos);
    }
  }
}

}  // namespace
}  // namespace evenleg
