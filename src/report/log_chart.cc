#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/report/log_text.h"
#include "src/report/log_words.h"

namespace evenleg {
namespace {

// The page, in SVG units.
constexpr double kWidth = 960;
constexpr double kHeight = 420;
constexpr double kLeft = 64, kRight = 24, kTop = 64, kBottom = 56;
constexpr double kLeastSpan = 10;  // volts from foot to top, so that noise does not look like news
constexpr int kMinuteTicks = 6;

std::string escaped(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if (c == '<')
      safe += "&lt;";
    else if (c == '>')
      safe += "&gt;";
    else if (c == '&')
      safe += "&amp;";
    else if (static_cast<unsigned char>(c) >= ' ')
      safe += c;
  }
  return safe;
}

// Volts and time to the page.
class Axes {
 public:
  explicit Axes(const WorstHour& hour) {
    low_ = 1e9;
    double high = 0;
    for (const ChartColumn& column : hour.columns) {
      if (!column.any) continue;
      for (std::size_t leg = 0; leg < 2; ++leg) {
        low_ = std::min(low_, column.least[leg]);
        high = std::max(high, column.most[leg]);
      }
    }
    constexpr double kTidy = 5;  // volts
    low_ = std::floor(low_ / kTidy) * kTidy;
    high_ = std::max(std::ceil(high / kTidy) * kTidy, low_ + kLeastSpan);
  }
  [[nodiscard]] double y(double volts) const {
    return kTop + (high_ - volts) / (high_ - low_) * (kHeight - kTop - kBottom);
  }
  [[nodiscard]] double x(double share) const { return kLeft + share * (kWidth - kLeft - kRight); }
  [[nodiscard]] double low() const { return low_; }
  [[nodiscard]] double high() const { return high_; }
  // A tidy distance between lines, about six of them.
  [[nodiscard]] double step() const {
    const double rough = (high_ - low_) / 6;
    for (const double step : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0}) {
      if (step >= rough) return step;
    }
    return 100;
  }

 private:
  double low_ = 0, high_ = 1;
};

std::string grid(const LogResult& log, const Axes& axes) {
  std::string svg;
  for (double volts = axes.low(); volts <= axes.high() + 1e-9; volts += axes.step()) {
    svg += fmt::format(
        "<line class=\"grid\" x1=\"{:.1f}\" x2=\"{:.1f}\" y1=\"{:.1f}\" y2=\"{:.1f}\"/>"
        "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"end\">{:.0f} V</text>\n",
        axes.x(0), axes.x(1), axes.y(volts), axes.y(volts), kLeft - 8, axes.y(volts) + 4, volts);
  }
  for (int tick = 0; tick <= kMinuteTicks; ++tick) {
    const double share = static_cast<double>(tick) / kMinuteTicks;
    std::string text = when(log, log.worst->start + share * 3600);
    const std::size_t space = text.find(' ');
    text = log.has_clock ? text.substr(space + 1, 5) : text.substr(0, space);
    svg += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\">{}</text>\n",
                       axes.x(share), kHeight - kBottom + 20, text);
  }
  return svg;
}

// Least and most as one closed shape for each run of columns without a gap.
std::string band(const WorstHour& hour, std::size_t leg, const Axes& axes) {
  std::string svg;
  const auto columns = static_cast<double>(hour.columns.size());
  std::string upper, lower;
  const auto end_run = [&] {
    if (!upper.empty()) {
      svg += fmt::format("<path class=\"leg{}\" d=\"M{} L{} Z\"/>\n", leg + 1, upper, lower);
    }
    upper.clear();
    lower.clear();
  };
  for (std::size_t c = 0; c < hour.columns.size(); ++c) {
    const ChartColumn& column = hour.columns[c];
    if (!column.any) {
      end_run();
      continue;
    }
    for (const std::size_t edge : {c, c + 1}) {
      const double x = axes.x(static_cast<double>(edge) / columns);
      constexpr double kThin = 0.6;  // so that a steady line is still seen
      upper += fmt::format("{}{:.1f},{:.1f}", upper.empty() ? "" : " ", x,
                           axes.y(column.most[leg]) - kThin);
      lower = fmt::format("{:.1f},{:.1f}{}{}", x, axes.y(column.least[leg]) + kThin,
                          lower.empty() ? "" : " ", lower);
    }
  }
  end_run();
  return svg;
}

std::string marks(const LogResult& log, const Axes& axes) {
  std::string svg;
  for (const LogEvent& event : log.deepest) {
    const double share = (event.start - log.worst->start) / 3600;
    if (share < 0 || share >= 1) continue;
    svg += fmt::format(
        "<path class=\"mark\" d=\"M{:.1f},{:.1f} l-5,-9 h10 Z\"><title>{}, {}: {} V and "
        "{} V</title></path>\n",
        axes.x(share), kTop, when(log, event.start), name_of(event.kind), fixed(event.volts[0], 1),
        fixed(event.volts[1], 1));
  }
  return svg;
}

std::string legend(const LogView& view) {
  return fmt::format(
      "<rect class=\"leg1\" x=\"{0:.0f}\" y=\"36\" width=\"28\" height=\"10\"/>"
      "<text x=\"{1:.0f}\" y=\"45\">{2}</text>\n"
      "<rect class=\"leg2\" x=\"{3:.0f}\" y=\"36\" width=\"28\" height=\"10\"/>"
      "<text x=\"{4:.0f}\" y=\"45\">{5}, hatched</text>\n"
      "<path class=\"mark\" d=\"M{6:.0f},46 l-5,-9 h10 Z\"/><text x=\"{7:.0f}\" y=\"45\">an event "
      "starts</text>\n",
      kLeft, kLeft + 36, escaped(view.system.legs[0].name), kLeft + 110, kLeft + 146,
      escaped(view.system.legs[1].name), kLeft + 265, kLeft + 276);
}

}  // namespace

std::string log_chart(const LogView& view) {
  const LogResult& log = view.log;
  if (!log.worst) return "";
  const Axes axes(*log.worst);
  const std::string title =
      fmt::format("{}: the hour from {}, in which the legs went furthest",
                  view.house.empty() ? std::string("A house without a name") : escaped(view.house),
                  when(log, log.worst->start));
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" "
      "height=\"{1:.0f}\" role=\"img\" aria-labelledby=\"t d\">\n"
      "<title id=\"t\">{2}</title>\n"
      "<desc id=\"d\">Volts of {3} and {4} to neutral over one hour, least and most of every six "
      "seconds, from the log {5}. Furthest swing {6} V.</desc>\n",
      kWidth, kHeight, title, escaped(view.system.legs[0].name), escaped(view.system.legs[1].name),
      escaped(view.name), fixed(log.worst->swing_volts, 1));
  svg +=
      "<style>text{font:13px sans-serif;fill:#111}.grid{stroke:#bbb;stroke-width:1}"
      ".leg1{fill:#111;stroke:#111;stroke-width:.8}.leg2{fill:url(#h);stroke:#456;stroke-width:.8}"
      ".mark{fill:#fff;stroke:#111;stroke-width:1.2}</style>\n"
      "<defs><pattern id=\"h\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" "
      "patternTransform=\"rotate(45)\"><rect width=\"5\" height=\"5\" fill=\"#fff\"/>"
      "<line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"5\" stroke=\"#456\" "
      "stroke-width=\"3\"/></pattern></defs>\n";
  svg += fmt::format("<rect width=\"{:.0f}\" height=\"{:.0f}\" fill=\"#fff\"/>\n", kWidth, kHeight);
  svg += fmt::format("<text x=\"{:.0f}\" y=\"22\" style=\"font-weight:bold\">{}</text>\n", kLeft,
                     title);
  svg += legend(view) + grid(log, axes) + band(*log.worst, 1, axes) + band(*log.worst, 0, axes) +
         marks(log, axes);
  svg += fmt::format(
      "<text x=\"{:.0f}\" y=\"{:.0f}\">Volts to neutral. What a recorder shows does not "
      "name a cause.</text>\n</svg>\n",
      kLeft, kHeight - 14);
  return svg;
}

}  // namespace evenleg
