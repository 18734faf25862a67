#include "src/drawing/canvas.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/drawing/svg_text.h"

namespace evenleg {

TEST_CASE("canvas: a drawing carries its title and its description, by ids of its own") {
  Canvas canvas("one");
  canvas.text(10, 20, "a < b");
  const Drawing drawing = std::move(canvas).finished(50, "The title", "What it \"shows\"");
  CHECK(contains(drawing.svg, "role=\"img\" aria-labelledby=\"one-t one-d\""));
  CHECK(contains(drawing.svg, "<title id=\"one-t\">The title</title>"));
  CHECK(contains(drawing.svg, "<desc id=\"one-d\">What it &quot;shows&quot;</desc>"));
  CHECK(contains(drawing.svg, "viewBox=\"0 0 480 50\""));
  CHECK(contains(drawing.svg, ">a &lt; b</text>"));
  CHECK(drawing.name == "one");
}

TEST_CASE("canvas: legs differ by pattern, and fourth legs begin again") {
  Canvas canvas("legs");
  for (int leg = 0; leg < 4; ++leg) canvas.leg_rect(leg, 0, 0, 10, 10);
  const std::string svg = std::move(canvas).finished(10, "t", "d").svg;
  CHECK(occurrences(svg, "fill=\"#17505c\"/>") == 2);
  CHECK(occurrences(svg, "fill=\"url(#legs-p1)\"") == 1);
  CHECK(occurrences(svg, "fill=\"url(#legs-p2)\"") == 1);
  CHECK(contains(svg, "<pattern id=\"legs-p1\""));
  CHECK(contains(svg, "<pattern id=\"legs-p2\""));
}

TEST_CASE("canvas: text is cut to its room, between characters") {
  CHECK(fitted("Kitchen", 200) == "Kitchen");
  const std::string cut = fitted(std::string(200, 'o'), 100);
  CHECK(cut.ends_with("…"));
  CHECK(text_width(cut) <= 100);
  CHECK(text_width(fitted("台所の電子レンジ台所の電子レンジ", 80)) <= 80);
  CHECK(fitted("one\ntwo", 200) == "one two");
}

TEST_CASE("canvas: what is no number is not drawn") {
  const double nan = std::nan("");
  Canvas canvas("none");
  canvas.line(0, nan, 1, 1);
  canvas.rect(0, 0, nan, 1, "ink");
  canvas.circle(nan, 0, 1, "ink");
  canvas.text(nan, 0, "lost");
  canvas.leg_rect(0, 0, 0, nan, 1);
  canvas.path("M0.0,nan L1.0,1.0", "ink");
  canvas.leg_path(1, "M0.0,inf H2");
  CHECK(std::isnan(Scale(0, 10, 0, 100).at(nan)));
  const std::string svg = std::move(canvas).finished(10, "t", "d").svg;
  CHECK_FALSE(contains(svg, "nan"));
  CHECK_FALSE(contains(svg, "inf"));
  CHECK_FALSE(contains(svg, "lost"));
}

TEST_CASE("canvas: a scale has whole steps and keeps what lies beyond it at its end") {
  const Scale scale(0, 240, 100, 350, 6);  // 40 a step would be rough; 50 is the next tidy one
  CHECK(scale.step() == 50);
  CHECK(scale.most() == 250);
  CHECK(scale.at(125) == 225);
  CHECK(scale.at(400) == 350);
  CHECK(scale.at(-5) == 100);
  const Scale flat(120, 120, 0, 10);
  CHECK(flat.most() > flat.least());
}

}  // namespace evenleg
