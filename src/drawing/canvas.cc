#include "src/drawing/canvas.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/markup.h"
#include "evenleg/base/utf8.h"

namespace evenleg {
namespace {

// Words and marks that carry a meaning have a contrast with white of at least 4.5 to 1 (WCAG 2.1,
// 1.4.3); grids, empty spaces and bands are lighter, and words stand beside them.
constexpr std::string_view kStyle =
    "<style>text{font-family:'DejaVu "
    "Sans',Verdana,sans-serif;font-size:13px;fill:#161616}.s{font-size:12px}"
    ".b{font-weight:bold}.e{text-anchor:end}.m{text-anchor:middle}.w{fill:#a0121c}"
    ".ink{stroke:#161616;stroke-width:1.4;fill:none}.thin{stroke:#161616;stroke-width:.7;fill:none}"
    ".grid{stroke:#c4c4c4;stroke-width:.7;fill:none}"
    ".plate{fill:#fff;stroke:#161616;stroke-width:1}.spare{fill:#fff;stroke:#8a8a8a;"
    "stroke-dasharray:3 3}.n{fill:#e4e4e4;stroke:#444;stroke-width:1.2;stroke-dasharray:5 3}"
    ".warn{stroke:#a0121c;stroke-width:1.8;fill:none}.past{fill:#a0121c}"
    ".mark{fill:#161616}.hollow{fill:#fff;stroke:#161616;stroke-width:1.3}"
    ".band{fill:#ececec;stroke:#8a8a8a;stroke-width:.7;stroke-dasharray:4 3}"
    ".span{fill:#d9d9d9;stroke:#161616;stroke-width:.6}.dash{stroke-dasharray:6 3}"
    ".dots{stroke-dasharray:1.5 3}.bold{stroke-width:2.6}.leg{stroke:#161616;stroke-width:.8}"
    "</style>";

// The patterns of the second and third leg, hatched and dotted; the first is solid.
std::string patterns(const std::string& name) {
  return fmt::format(
      "<defs>"
      "<pattern id=\"{0}-p1\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">"
      "<rect width=\"6\" height=\"6\" fill=\"#fff\"/>"
      "<path d=\"M-1.5,1.5 l3,-3 M0,6 l6,-6 M4.5,7.5 l3,-3\" stroke=\"#8a4508\" "
      "stroke-width=\"2\"/></pattern>"
      "<pattern id=\"{0}-p2\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">"
      "<rect width=\"6\" height=\"6\" fill=\"#fff\"/><circle cx=\"3\" cy=\"3\" r=\"1.7\" "
      "fill=\"#563a80\"/></pattern></defs>",
      name);
}

// What was not solved is not drawn: no coordinate is ever "nan".
template <class... Values>
bool all_finite(Values... values) {
  return (std::isfinite(values) && ...);
}

bool is_drawable(std::string_view d) {
  return d.find("nan") == std::string_view::npos && d.find("inf") == std::string_view::npos;
}

// Parts of the type size, from common sans-serif faces, the widest of each group.
double letter_width(std::uint32_t code) {
  constexpr std::string_view kNarrow = "ijlIt.,:;'!|()[] f-";
  constexpr std::string_view kWide = "mwMWQO@%&";
  if (code >= 0x1100) return 1.0;  // East Asian and other wide signs
  if (code >= 0x80) return 0.66;
  const char c = static_cast<char>(code);
  if (kNarrow.find(c) != std::string_view::npos) return 0.4;
  if (kWide.find(c) != std::string_view::npos) return 0.96;
  return c >= 'A' && c <= 'Z' ? 0.72 : 0.63;
}

}  // namespace

double text_width(std::string_view text, double size) {
  double width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const auto [code, bytes] = first_code_point(text.substr(at));
    width += letter_width(bytes == 0 ? '?' : code);
    at += std::max<std::size_t>(1, bytes);
  }
  return width * size;
}

std::string fitted(std::string_view text, double width, double size) {
  const std::string plain = plain_text(text);
  if (text_width(plain, size) <= width) return plain;
  const double room = width - text_width("…", size);
  double used = 0;
  std::size_t at = 0;
  while (at < plain.size()) {
    const auto [code, bytes] = first_code_point(std::string_view(plain).substr(at));
    used += letter_width(code) * size;
    if (used > room) break;
    at += bytes;
  }
  return plain.substr(0, at) + "…";
}

void Canvas::line(double x1, double y1, double x2, double y2, std::string_view classes) {
  if (!all_finite(x1, y1, x2, y2)) return;
  body_ +=
      fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" class=\"{}\"/>\n",
                  x1, y1, x2, y2, classes);
}

void Canvas::rect(double x, double y, double width, double height, std::string_view classes) {
  if (!all_finite(x, y, width, height)) return;
  body_ += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" class=\"{}\"/>\n", x, y,
      std::max(0.0, width), std::max(0.0, height), classes);
}

void Canvas::circle(double x, double y, double radius, std::string_view classes) {
  if (!all_finite(x, y, radius)) return;
  body_ += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" class=\"{}\"/>\n", x, y,
                       radius, classes);
}

void Canvas::path(std::string_view d, std::string_view classes) {
  if (!is_drawable(d)) return;
  body_ += fmt::format("<path d=\"{}\" class=\"{}\"/>\n", d, classes);
}

void Canvas::text(double x, double y, std::string_view text, std::string_view classes) {
  if (!all_finite(x, y)) return;
  body_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\"{}>{}</text>\n", x, y,
                       classes.empty() ? "" : fmt::format(" class=\"{}\"", classes),
                       escaped_markup(text));
}

std::string Canvas::fill_of(int leg) const {
  return leg % 3 == 0 ? "#17505c" : fmt::format("url(#{}-p{})", name_, leg % 3);
}

void Canvas::leg_rect(int leg, double x, double y, double width, double height) {
  if (!all_finite(x, y, width, height)) return;
  body_ += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" "
      "class=\"leg\" fill=\"{}\"/>\n",
      x, y, std::max(0.0, width), std::max(0.0, height), fill_of(leg));
}

void Canvas::leg_path(int leg, std::string_view d) {
  if (!is_drawable(d)) return;
  body_ += fmt::format("<path d=\"{}\" class=\"leg\" fill=\"{}\"/>\n", d, fill_of(leg));
}

double Canvas::leg_key(int leg, std::string_view leg_name, double x, double y) {
  constexpr double kSwatch = 22, kHeight = 10, kGap = 6, kAfter = 14;
  static constexpr const char* kPatterns[] = {"solid", "hatched", "dotted"};
  const std::string words = fmt::format("{}, {}", leg_name, kPatterns[leg % 3]);
  leg_rect(leg, x, y - kHeight + 1, kSwatch, kHeight);
  text(x + kSwatch + kGap, y, words, "s");
  return x + kSwatch + kGap + text_width(words, kSmallSize) + kAfter;
}

void Canvas::leg_sign(int leg, double x, double y, bool filled) {
  const std::string_view classes = filled ? "mark" : "hollow";
  constexpr double kSize = 4.5;
  if (leg == 0) return circle(x, y, kSize, classes);
  if (leg == 1) return rect(x - kSize, y - kSize, 2 * kSize, 2 * kSize, classes);
  path(fmt::format("M{:.1f},{:.1f} l5.5,9 h-11 Z", x, y - 5), classes);
}

Drawing Canvas::finished(double height, std::string title, std::string description) && {
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" "
      "width=\"{0:.0f}\" height=\"{1:.0f}\" role=\"img\" aria-labelledby=\"{2}-t {2}-d\">\n"
      "<title id=\"{2}-t\">{3}</title>\n<desc id=\"{2}-d\">{4}</desc>\n",
      kSheetWidth, height, name_, escaped_markup(title), escaped_markup(description));
  svg += std::string(kStyle) + patterns(name_) +
         fmt::format("\n<rect width=\"{:.0f}\" height=\"{:.0f}\" fill=\"#fff\"/>\n", kSheetWidth,
                     height);
  svg += body_ + "</svg>\n";
  return {std::move(name_), std::move(title), std::move(description), std::move(svg)};
}

Scale::Scale(double least, double most, double from, double to, int most_steps)
    : from_(from), to_(to) {
  if (!all_finite(least, most)) {
    least = 0;
    most = 1;
  }
  const double span = std::max(most - least, 1e-6);
  const double rough = span / most_steps;
  const double tens = std::pow(10.0, std::floor(std::log10(rough)));
  step_ = 10 * tens;
  for (const double tidy : {1.0, 2.0, 5.0}) {
    if (tidy * tens >= rough) {
      step_ = tidy * tens;
      break;
    }
  }
  least_ = std::floor(least / step_) * step_;
  most_ = std::max(std::ceil(most / step_) * step_, least_ + step_);
}

double Scale::at(double value) const {
  if (!std::isfinite(value)) return value;
  const double share = std::clamp((value - least_) / (most_ - least_), 0.0, 1.0);
  return from_ + share * (to_ - from_);
}

}  // namespace evenleg
