#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/format.h"
#include "evenleg/drawing/volts.h"
#include "src/drawing/canvas.h"

namespace evenleg {
namespace {

constexpr double kNames = 168;  // width of the names
constexpr double kFrom = 180, kTo = 436;
constexpr double kTop = 106;
constexpr double kRow = 19;

void draw_axis(Canvas& canvas, const Scale& scale, double top, double bottom) {
  for (double volts = scale.least(); volts <= scale.most() + 1e-9; volts += scale.step()) {
    canvas.line(scale.at(volts), top, scale.at(volts), bottom, "grid");
    canvas.text(scale.at(volts), top - 5, fmt::format("{:.0f}", volts), "m s");
  }
}

void draw_band(Canvas& canvas, const VoltsBand& band, const Scale& scale, double top,
               double bottom) {
  canvas.rect(scale.at(band.least), top, scale.at(band.most) - scale.at(band.least), bottom - top,
              "band");
  canvas.text(12, 56,
              fitted(fmt::format("grey band: {} to {} V, {}", figure(band.least), figure(band.most),
                                 band.words),
                     kSheetWidth - 24, kSmallSize),
              "s");
}

void draw_row(Canvas& canvas, const VoltsSpan& span, const Scale& scale, double y) {
  const std::string legs = (span.legs.empty() ? "" : " " + span.legs) + (span.empty ? " *" : "");
  const double room = kNames - text_width(legs, kSmallSize);
  canvas.text(kNames + 6, y + 4, fitted(span.name, room, kSmallSize) + legs, "e s");
  canvas.rect(scale.at(span.lowest), y - 5, scale.at(span.highest) - scale.at(span.lowest), 10,
              "span");
  const bool past = span.withstands && span.highest > *span.withstands;
  if (past) {
    const double from = scale.at(std::max(span.lowest, *span.withstands));
    canvas.rect(from, y - 5, scale.at(span.highest) - from, 10, "past");
  }
  if (span.withstands) {
    canvas.line(scale.at(*span.withstands), y - 8, scale.at(*span.withstands), y + 8, "ink bold");
  }
  if (span.as_found) canvas.circle(scale.at(*span.as_found), y, 3.6, "hollow");
  canvas.text(kTo + 38, y + 4, figure(span.highest) + " V", past ? "e s b w" : "e s");
}

std::string told(const VoltsSpan& span) {
  std::string words = fmt::format("{}{}: ", span.name, span.legs.empty() ? "" : " " + span.legs);
  if (span.as_found) words += fmt::format("{} V as found, ", figure(*span.as_found));
  words += fmt::format("{} to {} V", figure(span.lowest), figure(span.highest));
  if (span.empty) words += ", nothing described there";
  if (span.withstands && !span.empty) {
    words += fmt::format(", withstands {} V", figure(*span.withstands));
  }
  return words;
}

Drawing one_sheet(const std::vector<VoltsSpan>& spans, const std::optional<VoltsBand>& band,
                  const std::string& name, const std::string& title) {
  Canvas canvas(name);
  double most = band ? band->most : 0;
  for (const VoltsSpan& span : spans)
    most = std::max({most, span.highest, span.as_found.value_or(0)});
  const Scale scale(0, most, kFrom, kTo, 6);
  const double bottom = kTop + kRow * static_cast<double>(spans.size());
  canvas.text(12, 20, fitted(title, kSheetWidth - 24, kBoldSize), "b");
  const bool found = std::any_of(spans.begin(), spans.end(),
                                 [](const VoltsSpan& span) { return span.as_found.has_value(); });
  canvas.text(12, 40,
              std::string(found ? "ring: as found. " : "") +
                  "bar: lowest to highest. upright: its limit; red: past it.",
              "s");
  const bool empty =
      std::any_of(spans.begin(), spans.end(), [](const VoltsSpan& span) { return span.empty; });
  if (empty) {
    canvas.text(12, 72, "* nothing described there: held to what a plain load withstands", "s");
  }
  if (band) draw_band(canvas, *band, scale, kTop - 8, bottom);
  draw_axis(canvas, scale, kTop - 8, bottom);
  std::vector<std::string> words;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    draw_row(canvas, spans[i], scale, kTop + kRow * (static_cast<double>(i) + 0.5));
    words.push_back(told(spans[i]));
  }
  return std::move(canvas).finished(bottom + 10, title, fmt::format("{}.", fmt::join(words, "; ")));
}

}  // namespace

std::vector<Drawing> draw_volts_spans(const std::vector<VoltsSpan>& spans,
                                      const std::optional<VoltsBand>& band, const std::string& name,
                                      const std::string& title) {
  std::vector<Drawing> sheets;
  const std::size_t count = (spans.size() + kSpansEach - 1) / kSpansEach;
  for (std::size_t sheet = 0; sheet < count; ++sheet) {
    const auto from = spans.begin() + static_cast<std::ptrdiff_t>(sheet * kSpansEach);
    const auto to = spans.begin() +
                    static_cast<std::ptrdiff_t>(std::min(spans.size(), (sheet + 1) * kSpansEach));
    const std::string part =
        count > 1 ? fmt::format(" ({} of {})", sheet + 1, count) : std::string();
    sheets.push_back(one_sheet(
        {from, to}, band, sheet == 0 ? name : fmt::format("{}-{}", name, sheet + 1), title + part));
  }
  return sheets;
}

}  // namespace evenleg
