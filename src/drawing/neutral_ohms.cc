#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "evenleg/base/format.h"
#include "evenleg/base/quoted.h"
#include "evenleg/drawing/volts.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

constexpr double kFrom = 44, kTo = 398;  // of the ohms
constexpr double kOpenX = 440;
constexpr double kTop = 84, kBottom = 358;
constexpr double kLeast = 0.01, kMost = 100;  // ohms drawn; less stands at the left edge

double x_of(double ohms) {
  if (!std::isfinite(ohms)) return kOpenX;
  const double share =
      std::log10(std::clamp(ohms, kLeast, kMost) / kLeast) / std::log10(kMost / kLeast);
  return kFrom + share * (kTo - kFrom);
}

class Curve {
 public:
  Curve(const House& house, const NeutralDepth& depth, const std::optional<VoltsBand>& band,
        const std::optional<double>& measured)
      : house_(house),
        depth_(depth),
        band_(band),
        measured_(measured),
        canvas_("neutral-ohms"),
        scale_(0, most_volts(depth), kBottom, kTop, 6) {}

  Drawing drawn() && {
    canvas_.text(12, 20,
                 fitted("Volts as " + neutral_at(depth_.place) + " goes from whole to open",
                        kSheetWidth - 24, kBoldSize),
                 "b");
    draw_axes();
    draw_legs();
    draw_extremes();
    draw_limit();
    const double foot = draw_notes();
    return std::move(canvas_).finished(
        foot, fmt::format("Volts against ohms added in {}", neutral_at(depth_.place)),
        description());
  }

 private:
  static double most_volts(const NeutralDepth& depth) {
    double most = 1;
    for (const NeutralPoint& point : depth.curve) {
      if (point.highest) most = std::max(most, point.highest->value.si());
      for (const LegRow& leg : point.legs) most = std::max(most, leg.volts.si());
    }
    return most;
  }

  void draw_axes() {
    if (band_) {
      canvas_.rect(kFrom, scale_.at(band_->most), kOpenX + 12 - kFrom,
                   scale_.at(band_->least) - scale_.at(band_->most), "band");
    }
    for (double volts = 0; volts <= scale_.most() + 1e-9; volts += scale_.step()) {
      canvas_.line(kFrom, scale_.at(volts), kOpenX + 12, scale_.at(volts), "grid");
      canvas_.text(kFrom - 5, scale_.at(volts) + 4, fmt::format("{:.0f}", volts), "e s");
    }
    canvas_.text(kFrom - 5, kTop - 14, "V", "e s");
    for (const double ohms : {0.01, 0.1, 1.0, 10.0, 100.0}) {
      canvas_.line(x_of(ohms), kTop, x_of(ohms), kBottom, "grid");
      canvas_.text(x_of(ohms), kBottom + 15, exact(ohms), "m s");
    }
    canvas_.text(kOpenX, kBottom + 15, "open", "m s");
    canvas_.text((kFrom + kTo) / 2, kBottom + 31, "ohms added in the neutral", "m s");
  }

  // The points in order, the open end joined to the last one.
  template <class Volts>
  void draw_line(Volts&& volts_at, std::string_view classes) {
    std::string d;
    for (const NeutralPoint& point : depth_.curve) {
      const std::optional<double> volts = volts_at(point);
      if (!volts) continue;
      const double added = point.added.si();
      if (added < kLeast && added > 0) continue;
      d += fmt::format("{}{:.1f},{:.1f}", d.empty() ? "M" : " L", x_of(added), scale_.at(*volts));
    }
    if (!d.empty()) canvas_.path(d, classes);
  }

  void draw_legs() {
    static constexpr const char* kStrokes[] = {"ink bold", "ink bold dash", "ink bold dots"};
    static constexpr const char* kWords[] = {"full line", "dashes", "dots"};
    double x = 12;
    const std::size_t legs = depth_.curve.empty() ? 0 : depth_.curve.front().legs.size();
    for (std::size_t leg = 0; leg < legs; ++leg) {
      draw_line(
          [leg](const NeutralPoint& point) { return std::optional(point.legs[leg].volts.si()); },
          kStrokes[leg % 3]);
      const std::string words =
          fmt::format("{}, as found: {}", depth_.curve.front().legs[leg].leg, kWords[leg % 3]);
      canvas_.text(x, 40, words, "s");
      x += text_width(words, kSmallSize) + 10;
    }
    if (band_) {
      canvas_.text(12, 56,
                   fitted(fmt::format("grey band: {} to {} V, {}", figure(band_->least),
                                      figure(band_->most), band_->words),
                          kSheetWidth - 24, kSmallSize),
                   "s");
    }
  }

  void draw_extremes() {
    draw_line(
        [](const NeutralPoint& point) {
          return point.highest ? std::optional(point.highest->value.si()) : std::nullopt;
        },
        "thin");
    draw_line(
        [](const NeutralPoint& point) {
          return point.lowest ? std::optional(point.lowest->value.si()) : std::nullopt;
        },
        "thin");
  }

  [[nodiscard]] std::string limit_words() const {
    const auto& limit = depth_.high;
    if (!limit) return "No load was found past what it withstands, at any ohms looked at.";
    return fmt::format("At {} ohms added, {} reaches the {} V that it withstands.",
                       figure(limit->ohms.si()),
                       in_quotes(house_.loads[static_cast<std::size_t>(limit->load)].name),
                       figure(limit->volts.si()));
  }

  [[nodiscard]] std::string measured_words() const {
    return measured_
               ? fmt::format("The readings give {} ohms beyond its run.", fitted_ohms(*measured_))
               : std::string();
  }

  void draw_limit() {
    if (const auto& limit = depth_.high) {
      const double x = x_of(limit->ohms.si());
      canvas_.line(x, kTop, x, kBottom, "warn");
      canvas_.circle(x, scale_.at(limit->volts.si()), 5, "past");
    }
    if (measured_) {
      const double x = x_of(*measured_);
      canvas_.line(x, kTop, x, kBottom, "ink dots");
      canvas_.path(fmt::format("M{:.1f},{:.1f} l5,-9 h-10 Z", x, kBottom), "mark");
    }
  }

  double draw_notes() {
    double foot = kBottom + 52;
    const auto add = [&](const std::string& text) {
      for (const std::string& part : wrapped(text, 64)) {
        canvas_.text(12, foot, part, "s");
        foot += 15;
      }
    };
    add((depth_.high ? "Red line and spot: " : "") + limit_words());
    if (measured_) add("Filled triangle: " + measured_words());
    add("Thin lines: the highest and the lowest volts of a load beyond that a search over the "
        "credible states found.");
    return foot;
  }

  [[nodiscard]] std::string description() const {
    std::string text = limit_words();
    if (measured_) text += " " + measured_words();
    if (depth_.curve.empty()) return text;
    for (const NeutralPoint* point : {&depth_.curve.front(), &depth_.curve.back()}) {
      std::vector<std::string> legs;
      for (const LegRow& leg : point->legs) {
        legs.push_back(fmt::format("{} {} V", leg.leg, figure(leg.volts.si())));
      }
      text += fmt::format(" {}: {} as found", std::isfinite(point->added.si()) ? "Whole" : "Open",
                          listed(legs));
      if (point->highest && point->lowest) {
        text += fmt::format(", loads beyond from {} to {} V over all credible states",
                            figure(point->lowest->value.si()), figure(point->highest->value.si()));
      }
      text += ".";
    }
    return text;
  }

  const House& house_;
  const NeutralDepth& depth_;
  const std::optional<VoltsBand>& band_;
  const std::optional<double>& measured_;
  Canvas canvas_;
  Scale scale_;
};

}  // namespace

Drawing draw_neutral_ohms(const House& house, const NeutralDepth& depth,
                          const std::optional<VoltsBand>& band,
                          const std::optional<double>& measured) {
  return Curve(house, depth, band, measured).drawn();
}

}  // namespace evenleg
